/**
 * What an order of lots alone cannot say: who does a phase whoever would end it first, and which phase waits for other
 * work.
 */
import type { Instant, Lot } from '../../types.ts';
import { FREE } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';

/** An activity list with the choices for their phases: see `Instance.phaseWanted` and `Instance.phaseNotBefore`. */
export interface Choices {
  readonly activityList: Int32Array;
  readonly wanted: Int32Array;
  readonly notBefore: Int32Array;
  /** See `Instance.restTurn` and `Instance.passesOver`; null: hands alone decide. */
  readonly restTurn: Int32Array | null;
  readonly passesOver: boolean;
}

/** The activity list alone: whoever ends first, as early as can be. */
export function unchosen({ phaseWanted }: Instance, activityList: Int32Array, passesOver = false): Choices {
  const phases = phaseWanted.length;
  const wanted = new Int32Array(phases).fill(-1);
  return { activityList, wanted, notBefore: new Int32Array(phases).fill(FREE), restTurn: null, passesOver };
}

/** Whether phase p of lot l may begin later than what comes before it ends: the first of its lot, or `phaseLoose`. */
export function mayWait({ phaseFirst, phaseLoose }: Instance, l: number, p: number): boolean {
  return p === phaseFirst[l]! || phaseLoose[p] === 1;
}

/** Makes these the choices of the next passes. */
export function choose(instance: Instance, { wanted, notBefore, restTurn, passesOver }: Choices): void {
  instance.phaseWanted.set(wanted);
  instance.phaseNotBefore.set(notBefore);
  instance.hasRestTurns = restTurn !== null;
  if (restTurn !== null) instance.restTurn.set(restTurn);
  instance.passesOver = passesOver;
}

/** No choices in the next passes. */
export function chooseNothing(instance: Instance): void {
  instance.phaseWanted.fill(-1);
  instance.phaseNotBefore.fill(FREE);
  instance.hasRestTurns = false;
  instance.passesOver = false;
}

/**
 * When rests have their turn as they had it in a schedule: before the lots of this activity list that began then or
 * later. `startOf`: by lot; `restStartOf`: by phase; null for what was not there. Null where there are no rests. O(lots
 * and rests x log lots).
 */
export function restTurnsOf(
  { phaseLeft, lots }: Instance,
  activityList: Int32Array,
  startOf: (lot: number) => Instant | null,
  restStartOf: (phase: number) => Instant | null,
): Int32Array | null {
  if (!phaseLeft.includes(1)) return null;
  // By place in the list: when the last of those before it begins.
  const latest = new Float64Array(activityList.length);
  let last = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < activityList.length; k++) {
    last = Math.max(last, startOf(activityList[k]!) ?? last);
    latest[k] = last;
  }
  return Int32Array.from(phaseLeft, (isLeft, p) => {
    const start = isLeft === 1 ? restStartOf(p) : null;
    return start === null ? lots : firstFrom(latest, start);
  });
}

/** The first place of these rising instants that is at `at` or later. */
function firstFrom(instants: Float64Array, at: Instant): number {
  let [low, high] = [0, instants.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (instants[middle]! < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The lots of the forward instance with the choices, so that what compiles them again makes them too. */
export function withChoices<L extends Lot>(lots: readonly L[], instance: Instance, choices: Choices): L[] {
  const { phaseFirst, members, memberFirst } = instance;
  return lots.map((lot, l) => {
    const chosen = lot.phases.map((_, i) => {
      const p = phaseFirst[l]! + i;
      const crew = choices.wanted[p]!;
      const notBefore: Instant | null = choices.notBefore[p] === FREE ? null : choices.notBefore[p]!;
      return { people: crew < 0 ? null : [...members.subarray(memberFirst[crew]!, memberFirst[crew + 1]!)], notBefore };
    });
    return chosen.some(({ people, notBefore }) => people !== null || notBefore !== null) ? { ...lot, chosen } : lot;
  });
}

/**
 * Takes back every choice without which the schedule is no worse: first all together, then by halves. `isAsGood`
 * generates a schedule of the choices and judges it; it is called a few times for each choice that stays, at most
 * `most` times in all.
 */
export function withoutNeedless(
  choices: Choices,
  isAsGood: (tried: Choices) => boolean,
  most = Number.POSITIVE_INFINITY,
): Choices {
  let kept = choices;
  let asked = 0;
  const takeBack = (phases: readonly number[]): void => {
    if (phases.length === 0 || asked++ >= most) return;
    const tried = { ...kept, wanted: kept.wanted.slice(), notBefore: kept.notBefore.slice() };
    for (const p of phases) {
      tried.wanted[p] = -1;
      tried.notBefore[p] = FREE;
    }
    if (isAsGood(tried)) kept = tried;
    else if (phases.length > 1) {
      const half = phases.length >> 1;
      takeBack(phases.slice(0, half));
      takeBack(phases.slice(half));
    }
  };
  takeBack([...choices.wanted.keys()].filter((p) => choices.wanted[p]! >= 0 || choices.notBefore[p] !== FREE));
  return kept;
}
