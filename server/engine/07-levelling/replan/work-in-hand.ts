/** What people are working on at this minute: whoever's run clock is on keeps their lot in their hands. */
import { runningClocks } from '../../../model/log/index.ts';
import type { PlannedStep } from '../../02-steps/index.ts';
import type { BuildWork } from '../../04-lots/index.ts';
import type { PersonThere, Surroundings } from '../../calendar/index.ts';
import { isOpen, openMinutesBetween, personNamed } from '../../calendar/index.ts';
import type { TimedEntry } from '../../log/index.ts';
import type { Instant, Lot, Minutes } from '../../types.ts';
import type { PreviousSchedule } from './stable.ts';
import { FORGOTTEN_MINUTES, uncountedWork } from './uncounted.ts';

/**
 * For a lot at which longer was worked than it was to take, this share is still to come at least (common sense, no
 * source).
 */
const LEAST_LEFT = 0.05;

/**
 * The work with what people are at and have done of it since they counted last. Every lot that is in somebody's hands
 * begins now, by them: as if pinned to now, and its first phase theirs alone (of several who do it together, one of
 * them). For a step with n clocks on, these are the first n lots that wait for nothing; each person has the one that
 * was theirs in `previous`, else the first that is left. A clock is passed over where its person may not do the lot, is
 * not there now, or is bound by a pin of the maker; so is one that was forgotten. Minutes that a clock ran without a
 * count are taken off the lot, whether it is still on or not. O(entries + lots + links).
 */
export function withWorkInHand(
  work: BuildWork,
  plans: readonly PlannedStep[],
  standing: readonly TimedEntry[],
  surroundings: Surroundings,
  previous: PreviousSchedule | undefined,
): BuildWork {
  const hands = handsAt(standing, surroundings);
  if (hands.length === 0) return work;
  const waiting = waitingLots(work);
  const lots = [...work.lots];
  plans.forEach(({ id }, step) => {
    for (const run of work.runs[step]!) {
      const here = hands.filter((hand) => hand.step === id && (hand.set ?? firstSet(work, step)) === run.set);
      if (here.length === 0) continue;
      const free = run.lots.filter((l) => lots[l]!.begunAt === null);
      const next = free.slice(0, here.length).filter((l) => !waiting.has(l));
      for (const { hand, minutes } of shared(theirsFirst(here, next, work, previous), lots[next[0] ?? 0])) {
        const l = take(next, hand.person, work, previous);
        if (l === undefined) continue;
        const rest = worked(lots[l]!, minutes);
        lots[l] = (hand.isOn && hand.person !== undefined ? inHand(rest, hand.person, work.now) : null) ?? rest;
      }
    }
  });
  return { ...work, lots };
}

/** Somebody who is at a step, or has worked there since they counted last. */
interface Hand {
  readonly step: string;
  readonly set: number | null;
  readonly person: PersonThere | undefined;
  readonly minutes: Minutes;
  /** Their clock is on, and they are there. */
  readonly isOn: boolean;
}

/** Those whose clocks are on first. */
function handsAt(standing: readonly TimedEntry[], surroundings: Surroundings): Hand[] {
  if (surroundings.from > surroundings.now) return [];
  const spent = uncountedWork(standing, surroundings);
  const on = [...runningClocks(standing)].flatMap(([owner, { step, set, heardAt }]): Hand[] => {
    const person = personNamed(surroundings, owner);
    const isHeard = heardAt <= surroundings.now && surroundings.now - heardAt < FORGOTTEN_MINUTES;
    if (person === undefined || !isHeard || !isOpen(person.open, surroundings.now)) return [];
    const own = spent.find((one) => one.owner === owner && one.step === step && one.set === set);
    return [{ step, set, person, minutes: own?.minutes ?? 0, isOn: true }];
  });
  const resting = spent.flatMap(({ owner, step, set, minutes }): Hand[] => {
    const person = personNamed(surroundings, owner);
    const isOn = on.some((hand) => hand.person === person && hand.step === step && hand.set === set);
    return isOn ? [] : [{ step, set, person, minutes, isOn: false }];
  });
  return [...on, ...resting];
}

/** The minutes of each; where several do a lot together, theirs are all of one lot. */
function shared(hands: readonly Hand[], lot: Lot | undefined): { readonly hand: Hand; readonly minutes: Minutes }[] {
  const first = lot?.phases[0];
  const people = first?.kind === 'hands' ? first.people : 1;
  if (people === 1) return hands.map((hand) => ({ hand, minutes: hand.minutes }));
  const all = hands.reduce((sum, { minutes }) => sum + minutes, 0) / people;
  return hands.map((hand, i) => ({ hand, minutes: i === 0 ? all : 0 }));
}

/** The lot with this many minutes less of its first phase. */
function worked(lot: Lot, minutes: Minutes): Lot {
  const [first, ...rest] = lot.phases;
  if (first?.kind !== 'hands' || minutes <= 0) return lot;
  const left = Math.max(1, Math.ceil(first.minutes * LEAST_LEFT), first.minutes - Math.floor(minutes));
  return left >= first.minutes ? lot : { ...lot, phases: [{ ...first, minutes: left }, ...rest] };
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

function wasTheirs(lot: Lot, person: PersonThere | undefined, previous: PreviousSchedule | undefined): boolean {
  if (person === undefined) return false;
  return previous?.get(lot.id)?.people.some((crew) => crew.includes(person.resource)) ?? false;
}

/** Clocks that are on before those that are not, and of either those whose own lot is among these. */
function theirsFirst(
  hands: readonly Hand[],
  lots: readonly number[],
  work: BuildWork,
  previous: PreviousSchedule | undefined,
): Hand[] {
  const rank = ({ isOn, person }: Hand): number =>
    (isOn ? 0 : 2) + (lots.some((l) => wasTheirs(work.lots[l]!, person, previous)) ? 0 : 1);
  return [...hands].sort((a, b) => rank(a) - rank(b));
}

/** Takes the person's lot out of `lots`. */
function take(
  lots: number[],
  person: PersonThere | undefined,
  work: BuildWork,
  previous: PreviousSchedule | undefined,
): number | undefined {
  const own = lots.findIndex((l) => wasTheirs(work.lots[l]!, person, previous));
  return lots.splice(Math.max(0, own), 1)[0];
}

/** The lot begun now by the person; null where it cannot be. */
function inHand(lot: Lot, { resource, open }: PersonThere, now: Instant): Lot | null {
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
