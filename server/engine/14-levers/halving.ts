/** Which of several cases is best, by few futures: most are looked at shortly, the best for longer. */

/** Something whose worth becomes known the better the more futures of it are drawn. */
interface Arm {
  /** What it seems to be worth by the first `futures` of its futures. */
  readonly scoreBy: (futures: number) => number;
}

/** Fewer futures say nothing. */
const LEAST = 40;

/**
 * Sequential halving (Karnin, Koren, Somekh, "Almost optimal exploration in multi-armed bandits", ICML 2013, algorithm
 * 1; from memory): as many rounds as it takes to halve the arms to `keep`; in each round those that are left are drawn
 * on, then the better half goes on. Futures are doubled from round to round, so that each costs about the same and the
 * last has `most`. Other than there, futures of earlier rounds are kept: all arms meet the same luck, so that the same
 * first futures compare them. Answers how many futures each arm had. O(arms x most x log(arms) / arms) futures.
 * `isOver` ends it between two arms; `onRound` hears of each round.
 *
 * @example eight arms, keep 1, most 800: eight of 100 futures, four of 200, two of 400, one of 800
 */
export function halve(
  arms: readonly Arm[],
  {
    most,
    keep,
    isOver,
    onRound,
  }: {
    readonly most: number;
    readonly keep: number;
    readonly isOver: () => boolean;
    readonly onRound?: (drawn: readonly number[]) => void;
  },
): number[] {
  const drawn = arms.map(() => 0);
  let left = [...arms.keys()];
  for (let rounds = roundsOf(arms.length, keep); rounds >= 0; rounds--) {
    const futures = Math.min(most, Math.max(LEAST, Math.ceil(most / 2 ** rounds)));
    const scores = new Map<number, number>();
    for (const arm of left) {
      if (isOver()) return drawn;
      scores.set(arm, arms[arm]!.scoreBy(futures));
      drawn[arm] = futures;
    }
    onRound?.(drawn);
    left.sort((a, b) => scores.get(b)! - scores.get(a)! || a - b);
    left = left.slice(0, Math.max(keep, Math.ceil(left.length / 2)));
  }
  return drawn;
}

/** After how many halvings no more than `keep` are left. */
function roundsOf(arms: number, keep: number): number {
  let rounds = 0;
  for (let left = arms; left > keep; left = Math.max(keep, Math.ceil(left / 2))) rounds++;
  return rounds;
}
