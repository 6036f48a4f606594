/** The earliest that each lot and phase can be done, alone in the workshop. */
import { finishBound, startBound } from '../generate/link-bounds.ts';
import { dependencyOrderOf } from '../generate/orders.ts';
import { FREE, HANDS, LEAD, RUN } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { leastFinishAlone } from './alone.ts';

/** What no schedule of an instance can do earlier, by lot and by phase; in the instance's time. */
interface Reach {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  readonly phaseStarts: Int32Array;
  readonly phaseFinishes: Int32Array;
}

/**
 * The earliest start and the earliest finish of every lot and of every phase, hands, machines and pools unlimited, each
 * as if it alone mattered: a crew that begins early may end late, so both may not be had together. A schedule can do
 * neither earlier. Starts fall short of the truth where phases that must follow each other at once wait for a late one.
 * O(phases times crews, and links). `notBefore`: what is known beside, by phase; `order`: the lots,
 * each behind those it depends on; those left out of it hold nothing up. Leaves the times of the last pass as they are.
 */
export function reachOf(
  instance: Instance,
  notBefore: Int32Array | null = null,
  order: Int32Array = dependencyOrderOf(instance),
): Reach {
  const { starts, finishes, phaseStarts, phaseFinishes } = instance;
  const before = [starts, finishes, phaseStarts, phaseFinishes].map((times) => times.slice());
  reachHere(instance, notBefore, order);
  const reach = {
    starts: starts.slice(),
    finishes: finishes.slice(),
    phaseStarts: phaseStarts.slice(),
    phaseFinishes: phaseFinishes.slice(),
  };
  // These alone say where in the mirror the work under way is.
  [starts, finishes, phaseStarts, phaseFinishes].forEach((times, i) => {
    times.set(before[i]!);
  });
  return reach;
}

/** The same, written into the instance's own times. */
export function reachHere(instance: Instance, notBefore: Int32Array | null, order: Int32Array): void {
  if (order.length < instance.lots) forgetOthers(instance, order);
  for (let k = 0; k < order.length; k++) reachLot(instance, order[k]!, notBefore);
}

function forgetOthers({ lots, starts, finishes }: Instance, order: Int32Array): void {
  const asked = new Uint8Array(lots);
  for (const lot of order) asked[lot] = 1;
  for (let lot = 0; lot < lots; lot++) {
    if (asked[lot] === 1) continue;
    starts[lot] = FREE;
    finishes[lot] = FREE;
  }
}

function reachLot(instance: Instance, lot: number, notBefore: Int32Array | null): void {
  const { mirrored, begun, starts, finishes, phaseFirst, phaseLoose, phaseStarts, phaseFinishes } = instance;
  const isBegun = begun[lot] !== FREE;
  const from = isBegun && !mirrored ? begun[lot]! : startBound(instance, lot);
  const until = isBegun && mirrored ? FREE : finishBound(instance, lot);
  const [first, end] = [phaseFirst[lot]!, phaseFirst[lot + 1]!];
  let at = from;
  // The phases from `group` on hang together.
  let [group, groupFrom] = [first, from];
  for (let p = first; p < end; p++) {
    const isUnderWay = isBegun && p === (mirrored ? end - 1 : first);
    if (isUnderWay) {
      phaseStarts[p] = at;
      if (!mirrored) reachBegun(instance, p, at);
      else phaseFinishes[p] = at;
      at = mirrored ? at : Math.max(phaseFinishes[p]!, instance.earliest[lot]!);
      [group, groupFrom] = [p + 1, at];
      continue;
    }
    if (p > group && phaseLoose[p] === 1) [group, groupFrom] = [p, at];
    at = reachPhase(instance, p, notBefore === null ? at : Math.max(at, notBefore[p]!));
    const isLast = p === end - 1;
    if (mirrored || (!isLast && phaseLoose[p + 1] === 0)) continue;
    if (p > group || (isLast && until > at)) {
      at = Math.max(at, leastFinishAlone(instance, group, p, groupFrom, isLast ? until : FREE));
    }
  }
  starts[lot] = first < end ? phaseStarts[first]! : Math.max(from, until);
  // What is in its last phase may have ended before now.
  const isInLast = isBegun && !mirrored && end === first + 1;
  finishes[lot] = Math.max(isInLast ? phaseFinishes[first]! : at, until);
}

/** What is under way ends as long after its begin as it takes, in the hours of whoever may be at it. */
function reachBegun(instance: Instance, p: number, begun: number): void {
  const { phaseKind, phaseTable, phaseMinutes, phaseFinishes, leads } = instance;
  const minutes = phaseMinutes[p]!;
  if (phaseKind[p] === LEAD) phaseFinishes[p] = leads.finish(phaseTable[p]!, begun) + minutes;
  else if (phaseKind[p] === HANDS && instance.phaseOneGo[p] === 0) reachPhase(instance, p, begun);
  else phaseFinishes[p] = begun + minutes;
  instance.phaseStarts[p] = begun;
}

/** Writes the earliest start and finish of phase p from t on; returns the finish. */
function reachPhase(instance: Instance, p: number, t: number): number {
  const { calendars, phaseKind, phaseCalendar, phaseTable, crewRange, crewCalendar, phaseStarts, phaseFinishes } =
    instance;
  const minutes = instance.phaseMinutes[p]!;
  const kind = phaseKind[p]!;
  const unbroken = kind === RUN || (kind === HANDS && instance.phaseOneGo[p] === 1);
  let start = t;
  let finish = t + minutes;
  if (kind === LEAD) finish = instance.leads.finish(phaseTable[p]!, t) + minutes;
  else if (minutes > 0 && instance.phaseCutCalendar[p]! >= 0) {
    const calendar = instance.phaseCutCalendar[p]!;
    start = unbroken ? calendars.stretch(calendar, t, minutes) : calendars.nextOpen(calendar, t);
    finish = unbroken ? start + minutes : calendars.add(calendar, start, minutes);
  } else if (minutes > 0 && crewRange[2 * p + 1]! > crewRange[2 * p]!) {
    start = 2147483647;
    finish = 2147483647;
    for (let crew = crewRange[2 * p]!; crew < crewRange[2 * p + 1]!; crew++) {
      const calendar = crewCalendar[crew]!;
      const own = unbroken ? calendars.stretch(calendar, t, minutes) : calendars.nextOpen(calendar, t);
      start = Math.min(start, own);
      finish = Math.min(finish, unbroken ? own + minutes : calendars.add(calendar, own, minutes));
    }
  } else if (minutes > 0 && phaseCalendar[p]! >= 0) {
    start = calendars.stretch(phaseCalendar[p]!, t, minutes);
    finish = start + minutes;
  }
  phaseStarts[p] = start;
  phaseFinishes[p] = finish;
  return finish;
}
