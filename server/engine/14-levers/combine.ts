/** Several levers at once: the best pair and triple, and what it would take to keep a date that is missed. */
import type { Change, LeverRow, LeverSearch, LeverSet } from '../../model/index.ts';
import type { Case } from '../stages/index.ts';
import { halve } from './halving.ts';
import { changedTrial, isTrial, type Trial, type TrialOptions } from './trial.ts';
import { costMinutes, costOf, worthOf } from './worth.ts';

/** A lever that gains, by its place among the rows. */
export interface Tried {
  readonly place: number;
  readonly row: LeverRow;
  readonly relaxes: boolean;
}

interface CombineOptions extends TrialOptions {
  /** Pairs and triples are made of this many of the best. */
  readonly finalists: number;
  readonly isOver: () => boolean;
}

/** Levers at most in what it would take. */
const MOST_TAKEN = 6;

type Sets = Pick<LeverSearch, 'pair' | 'triple' | 'takes'>;

/**
 * The best pair of the best few levers, the best triple that holds it, and, where the plan is late, what it would take:
 * from nothing on always the lever that with those before it gains most, until the date is kept as planned; then each
 * is left out again that the date is kept without. `gaining`: the best first. Levers that contradict each other are no
 * pair. O(finalists^2) plans, and as many again as it takes levers.
 */
export function combine(asked: Case, present: Trial, gaining: readonly Tried[], options: CombineOptions): Sets {
  const makes = new Maker(asked, present, options);
  const best = gaining.slice(0, options.finalists);
  const pair = makes.best(best.flatMap((one, i) => best.slice(i + 1).map((other) => [one, other])));
  const rest = pair === null ? [] : best.filter(({ place }) => !pair.set.rows.includes(place));
  const triple = makes.best(rest.map((third) => [...pair!.of, third]));
  return { pair: pair?.set ?? null, triple: triple?.set ?? null, takes: makes.takes(gaining) };
}

interface Made {
  readonly of: readonly Tried[];
  readonly set: LeverSet;
}

class Maker {
  constructor(
    private readonly asked: Case,
    private readonly present: Trial,
    private readonly options: CombineOptions,
  ) {}

  /** The best of these combinations, by sequential halving; null where none can be made. */
  best(combinations: readonly (readonly Tried[])[]): Made | null {
    const made = combinations.flatMap((of) => {
      const trial = this.options.isOver() ? null : this.trial(of);
      return trial === null ? [] : [{ of, trial }];
    });
    const arms = made.map(({ of, trial }) => ({ scoreBy: (futures: number) => this.worth(of, trial, futures).score }));
    const drawn = halve(arms, { most: this.options.futures, keep: 1, isOver: this.options.isOver });
    const sets = made.flatMap(({ of, trial }, i) =>
      drawn[i] === 0 ? [] : [{ of, set: this.worth(of, trial, drawn[i]!), drawn: drawn[i]! }],
    );
    const most = Math.max(...sets.map((one) => one.drawn));
    const [best] = sets.filter((one) => one.drawn === most).sort((a, b) => b.set.score - a.set.score);
    return best === undefined ? null : { of: best.of, set: best.set };
  }

  takes(gaining: readonly Tried[]): LeverSearch['takes'] {
    const { readyBy } = this.present.planned.surroundings;
    if (this.present.readyAt === null || this.present.readyAt <= readyBy) return null;
    let taken: readonly Tried[] = [];
    let readyAt = this.present.readyAt;
    while (readyAt > readyBy && taken.length < MOST_TAKEN && !this.options.isOver()) {
      const next = this.next(taken, gaining, readyAt);
      if (next === null) break;
      [taken, readyAt] = [next.of, next.readyAt];
    }
    if (taken.length === 0) return null;
    const least = readyAt <= readyBy ? this.without(taken, readyBy) : taken;
    const trial = this.trial(least);
    if (trial === null) return null;
    return { ...this.worth(least, trial, this.options.futures), keeps: readyAt <= readyBy };
  }

  /** One lever more: the one with which the workshop is ready soonest, if that is sooner. */
  private next(taken: readonly Tried[], gaining: readonly Tried[], before: number) {
    const others = gaining.filter((one) => !taken.includes(one));
    const found = others.flatMap((one) => {
      const of = [...taken, one];
      const readyAt = this.options.isOver() ? null : (this.trial(of)?.readyAt ?? null);
      return readyAt === null || readyAt >= before ? [] : [{ of, readyAt }];
    });
    return found.reduce<(typeof found)[number] | null>((a, b) => (a === null || b.readyAt < a.readyAt ? b : a), null);
  }

  /** As few of these as keep the date; the dearest is tried without first. */
  private without(taken: readonly Tried[], readyBy: number): readonly Tried[] {
    const { build } = this.present.planned;
    const dear = [...taken].sort((a, b) => costMinutes(b.row.lever.cost, build) - costMinutes(a.row.lever.cost, build));
    return dear.reduce<readonly Tried[]>((left, one) => {
      const rest = left.filter((other) => other !== one);
      const readyAt = rest.length === 0 ? null : (this.trial(rest)?.readyAt ?? null);
      return readyAt !== null && readyAt <= readyBy ? rest : left;
    }, taken);
  }

  private trial(of: readonly Tried[]): Trial | null {
    const tried = changedTrial(this.asked, changesOf(of), this.options, this.present);
    return isTrial(tried) && tried.ends !== null ? tried : null;
  }

  private worth(of: readonly Tried[], trial: Trial, futures: number): LeverSet {
    const cost = costMinutes(costOf(of.map(({ row }) => row.lever.cost)), this.present.planned.build);
    const relaxes = of.every((one) => one.relaxes);
    const ofPresent = Math.max(futures, this.options.futures);
    return {
      ...worthOf(this.present, trial, { futures, ofPresent, relaxes, cost }),
      rows: of.map(({ place }) => place),
    };
  }
}

function changesOf(of: readonly Tried[]): Change[] {
  return of.flatMap(({ row }) => row.lever.changes);
}
