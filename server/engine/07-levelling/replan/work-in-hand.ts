/** What people are working on at this minute: whoever's run clock is on keeps their lot in their hands. */
import { runningClocks } from '../../../model/log/index.ts';
import type { StepPlan } from '../../02-steps/index.ts';
import type { BuildWork } from '../../04-lots/index.ts';
import type { Setting, SettingPerson } from '../../calendar/index.ts';
import { isOpen, openMinutesBetween } from '../../calendar/index.ts';
import type { TimedEntry } from '../../log/index.ts';
import type { Instant, Lot } from '../../types.ts';
import type { PreviousPlan } from './stable.ts';

/** A clock of which nothing was heard for so many minutes was forgotten (common sense, no source). */
const FORGOTTEN_MINUTES = 8 * 60;

/**
 * The work in which every lot that is in somebody's hands begins now, by them: as if pinned to now, and its first phase theirs
 * alone (of several who do it together, one of them). Of a step with n clocks on, these are the first n lots that wait for nothing;
 * each person has the one that was theirs in `previous`, else the first that is left. A clock is passed over where its person may not do the lot,
 * is not there now, or is bound by a pin of the maker; so is one that was forgotten. O(entries + lots + links).
 */
export function withWorkInHand(
  work: BuildWork,
  plans: readonly StepPlan[],
  standing: readonly TimedEntry[],
  setting: Setting,
  previous: PreviousPlan | undefined,
): BuildWork {
  if (setting.from > setting.now) return work;
  const clocks = [...runningClocks(standing)].flatMap(([owner, clock]) => {
    const person = personOf(setting, owner);
    const isOn = clock.heardAt <= work.now && work.now - clock.heardAt < FORGOTTEN_MINUTES;
    return person !== undefined && isOn && isOpen(person.open, work.now) ? [{ person, clock }] : [];
  });
  if (clocks.length === 0) return work;
  const waiting = waitingLots(work);
  const lots = [...work.lots];
  plans.forEach(({ id }, step) => {
    for (const { set } of work.runs[step]!) {
      const own = clocks.filter(({ clock }) => clock.step === id && (clock.set ?? firstSet(work, step)) === set);
      const free = work.runs[step]!.find((run) => run.set === set)!.lots.filter((l) => lots[l]!.begunAt === null);
      const next = free.slice(0, own.length).filter((l) => !waiting.has(l));
      for (const { person } of theirsFirst(own, next, work, previous)) {
        const l = take(next, person, work, previous);
        if (l !== undefined) lots[l] = inHand(lots[l]!, person, work.now) ?? lots[l]!;
      }
    }
  });
  return { ...work, lots };
}

/** A person as the log names them: by the short name of the build, or by name. */
function personOf({ people }: Setting, owner: string): SettingPerson | undefined {
  return people.get(owner) ?? [...people.values()].find(({ name }) => name === owner);
}

/** Lots that wait for others which are not done yet; that the lots of a step begin in order is no waiting. */
function waitingLots({ lots, links, now }: BuildWork): ReadonlySet<number> {
  const waiting = new Set(links.flatMap(({ to, reason }) => (reason === 'order' ? [] : [to])));
  lots.forEach(({ release }, l) => {
    if (release > now) waiting.add(l);
  });
  return waiting;
}

/** The first set of a step that has lots left. */
function firstSet({ runs }: BuildWork, step: number): number | null {
  return runs[step]!.find(({ lots }) => lots.length > 0)?.set ?? null;
}

function wasTheirs(lot: Lot, person: SettingPerson, previous: PreviousPlan | undefined): boolean {
  return previous?.get(lot.id)?.people.some((crew) => crew.includes(person.resource)) ?? false;
}

function theirsFirst<C extends { readonly person: SettingPerson }>(
  clocks: readonly C[],
  lots: readonly number[],
  work: BuildWork,
  previous: PreviousPlan | undefined,
): C[] {
  const hasOwn = ({ person }: C) => lots.some((l) => wasTheirs(work.lots[l]!, person, previous));
  return [...clocks.filter(hasOwn), ...clocks.filter((clock) => !hasOwn(clock))];
}

/** Takes the person's lot out of `lots`. */
function take(
  lots: number[],
  person: SettingPerson,
  work: BuildWork,
  previous: PreviousPlan | undefined,
): number | undefined {
  const own = lots.findIndex((l) => wasTheirs(work.lots[l]!, person, previous));
  return lots.splice(Math.max(0, own), 1)[0];
}

/** The lot begun now by the person; null where it cannot be. */
function inHand(lot: Lot, { resource, open }: SettingPerson, now: Instant): Lot | null {
  const [first, ...rest] = lot.phases;
  if (first?.kind !== 'hands' || (lot.pinnedStart !== null && lot.pinnedStart <= now)) return null;
  const pinned = (lot.pinnedPeople ?? []).filter((person) => first.eligible.includes(person));
  if (!(pinned.length > 0 ? pinned : first.eligible).includes(resource)) return null;
  if (first.oneGo && openMinutesBetween(open, now, now + first.minutes) < first.minutes) return null;
  if (first.people > 1 || lot.pinnedPeople !== null) {
    const mayDoAll = lot.phases.every((phase) => !('eligible' in phase) || phase.eligible.includes(resource));
    return { ...lot, pinnedStart: now, pinnedPeople: mayDoAll ? [resource] : lot.pinnedPeople };
  }
  return { ...lot, phases: [{ ...first, eligible: [resource], open }, ...rest], pinnedStart: now };
}
