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
}

/** The activity list alone: whoever ends first, as early as can be. */
export function unchosen({ phaseWanted }: Instance, activityList: Int32Array): Choices {
  const phases = phaseWanted.length;
  return { activityList, wanted: new Int32Array(phases).fill(-1), notBefore: new Int32Array(phases).fill(FREE) };
}

/** Makes these the choices of the next passes. */
export function choose({ phaseWanted, phaseNotBefore }: Instance, { wanted, notBefore }: Choices): void {
  phaseWanted.set(wanted);
  phaseNotBefore.set(notBefore);
}

/** No choices in the next passes. */
export function chooseNothing({ phaseWanted, phaseNotBefore }: Instance): void {
  phaseWanted.fill(-1);
  phaseNotBefore.fill(FREE);
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
