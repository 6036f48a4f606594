/** What would buy time: the levers that a build has, tried out and ranked by what they gain for what they cost. */
import type { LeverRow, LeverSearch, LeverSet, Neck, Problem } from '../../model/index.ts';
import { type KeptSchedule, keptScheduleOf } from '../07-levelling/index.ts';
import { runFutures } from '../08-risk/index.ts';
import { lotsAnswer, spellsOf, stepsAnswer, workHoursAnswer } from '../10-answers/index.ts';
import { type Case, madeAt, type Planned } from '../stages/index.ts';
import { combine, type Tried } from './combine.ts';
import { freeUntilOf } from './free-until.ts';
import { halve } from './halving.ts';
import { madeBeyond } from './made-beyond.ts';
import { neckOf } from './neck.ts';
import { proposeLevers } from './propose.ts';
import type { Proposed } from './proposed.ts';
import { proveSets } from './prove-sets.ts';
import { changedTrial, isTrial, type KnownPlan, type Trial, type TrialOptions, trialOf } from './trial.ts';
import { costMinutes, gainErrorOf, gainOf, knownChance, worthOf } from './worth.ts';

interface LeversAsked {
  readonly seed: number;
  /** Futures of the best; 1,000 unless given. */
  readonly futures?: number;
  /** Time at most, counted by `clock`; without a clock the search always comes to its end. */
  readonly milliseconds?: number;
  readonly clock?: () => number;
  /** Hears of what is found so far, after each lever that is tried. */
  readonly onRows?: (found: LeverSearch) => void;
  /** What the sheets say of the plan as it is. */
  readonly known?: KnownPlan;
}

const FUTURES = 1000;
/** Futures of the plan as it is in which the driving chain is followed. */
const FOLLOWED = 200;
/** Levers tried at most, those first that ease what drives the date most often. */
const MOST_TRIED = 48;
/** Futures by which a row is ordered at first. */
const FIRST = 40;
/** Levers that are looked at to the end, and joined into pairs and triples (our choice, no source). */
const FINALISTS = 4;
/** Futures of both ways through the sets. */
const SETS_FUTURES = 400;
/** Less is not worth a row: minutes of room (our choice, no source). */
const LEAST_GAIN = 5;

/**
 * The levers of a build ranked. In this order: the plan as it is, with futures in which the chain that drives the ready
 * finish is followed; a screen, by which a lever that eases nothing on that chain in any of them is named as buying
 * nothing and not tried; each other lever worked through, and looked at by sequential halving (see `halve`) with the
 * same luck for all; the best pair and triple of the best few; and, where the plan is late, the fewest levers found
 * that keep the date. Room and chance are one gain (see `gainOf`), per hour that the lever costs. A lever that only
 * adds to what there is never costs: the plan as it is stays where nothing better is found. Deterministic, save where
 * the time ends it. O(levers) plans, and 2 x `futures` futures for each doubling of the levers.
 */
export function findLevers(asked: Case, options: LeversAsked): LeverSearch {
  return new Search(asked, options).run();
}

interface Candidate extends Proposed {
  readonly drives: number;
  readonly cost: number;
}

class Search {
  private readonly asked: Case;
  private readonly options: LeversAsked;
  private readonly trials: TrialOptions;
  private readonly present: Trial;
  private readonly began: number;
  private readonly neck: LeverSearch['neck'];
  private readonly usual: ReadonlySet<string>;
  /** By candidate, as far as it is tried. */
  private readonly tried = new Map<Candidate, Trial | readonly Problem[]>();
  /** What does not change with more futures, by candidate. */
  private readonly facts = new Map<Candidate, Pick<LeverRow, 'warnings'> & { readonly neck: Neck | null }>();
  private drawn = new Map<Candidate, number>();
  private candidates: readonly Candidate[] = [];
  private offChain: readonly Candidate[] = [];

  constructor(asked: Case, options: LeversAsked) {
    this.options = options;
    this.began = options.clock?.() ?? 0;
    this.trials = { seed: options.seed, futures: options.futures ?? FUTURES };
    this.present = trialOf(asked, this.trials, options.known);
    this.asked = { ...asked, former: asked.former ?? keptPlanOf(this.present.planned) };
    this.neck = neckOf(this.present.planned);
    this.usual = new Set(hoursOf(this.present.planned).map(keyOfWarning));
  }

  run(): LeverSearch {
    const { planned, ends } = this.present;
    if (ends === null || madeAt(planned, false) !== null) return this.nothing();
    this.screen();
    for (const candidate of this.candidates) {
      if (this.isOver()) return this.answer(false);
      this.tryOut(candidate);
      this.options.onRows?.(this.answer(false));
    }
    const open = this.candidates.filter((one) => isTrial(this.tried.get(one)!));
    const arms = open.map((candidate) => ({ scoreBy: (futures: number) => this.scoreBy(candidate, futures) }));
    const tell = (drawn: readonly number[]) => {
      this.drawn = new Map(open.map((candidate, i) => [candidate, drawn[i]!]));
      this.options.onRows?.(this.answer(false));
    };
    const most = this.trials.futures;
    tell(halve(arms, { most, keep: FINALISTS, isOver: () => this.isOver(), onRound: tell }));
    return this.answer(!this.isOver(), true);
  }

  private nothing(): LeverSearch {
    const { planned } = this.present;
    const { readyBy } = planned.surroundings;
    const none = {
      present: null,
      neck: null,
      rows: [],
      pair: null,
      triple: null,
      takes: null,
      freeUntil: [],
      sets: [],
    };
    return { now: planned.now, readyBy, ...none, futures: 0, tried: 0, toTry: 0, isDone: true };
  }

  /** What eases the driving chain in some future is tried, what does so most often first. */
  private screen(): void {
    const { planned } = this.present;
    const followed = runFutures(planned, { seed: this.trials.seed, futures: FOLLOWED, exactness: 0 });
    const drives = new Map(planned.plans.map(({ id }, step) => [id, followed?.tally.criticality(step) ?? 0]));
    const all = proposeLevers(planned).map((one): Candidate => {
      const shares = one.eases.map((id) => drives.get(id) ?? 0);
      return { ...one, drives: Math.max(0, ...shares), cost: costMinutes(one.lever.cost, planned.build) };
    });
    this.candidates = all.filter((one) => one.drives > 0).sort((a, b) => b.drives - a.drives);
    this.offChain = all.filter((one) => one.drives === 0);
    this.candidates = this.candidates.slice(0, MOST_TRIED);
  }

  private isOver(): boolean {
    const { clock, milliseconds = Number.POSITIVE_INFINITY } = this.options;
    return clock !== undefined && clock() - this.began >= milliseconds;
  }

  private tryOut(candidate: Candidate): void {
    const tried = changedTrial(this.asked, candidate.lever.changes, this.trials, this.present);
    this.tried.set(candidate, tried);
    if (isTrial(tried) && tried.ends !== null) this.drawn.set(candidate, Math.min(FIRST, this.trials.futures));
  }

  private scoreBy(candidate: Candidate, futures: number): number {
    const { relaxes, cost } = candidate;
    return worthOf(this.present, this.tried.get(candidate) as Trial, { futures, relaxes, cost }).score;
  }

  private answer(isDone: boolean, combined = false): LeverSearch {
    const { planned, readyAt } = this.present;
    const { readyBy } = planned.surroundings;
    const entries = [...this.tried.keys()].map((candidate) => ({ candidate, row: this.rowOf(candidate) }));
    entries.sort((a, b) => orderOf(a.row) - orderOf(b.row) || b.row.score - a.row.score);
    const off = this.offChain.map((candidate) => this.offChainRow(candidate));
    const futures = Math.max(0, ...this.drawn.values());
    const sets = combined ? this.combined(entries) : NO_SETS;
    return {
      now: planned.now,
      readyBy,
      present: {
        readyAt,
        room: readyAt === null ? null : readyBy - readyAt,
        chance: knownChance(this.present, futures),
      },
      neck: this.neck,
      rows: [...entries.map(({ row }) => row), ...off],
      ...sets,
      freeUntil: combined ? freeUntilOf(planned) : [],
      sets: combined && !this.isOver() ? proveSets(this.asked, { ...this.trials, futures: SETS_FUTURES }) : [],
      futures,
      tried: this.tried.size,
      toTry: this.candidates.length,
      isDone,
    };
  }

  private combined(entries: readonly { readonly candidate: Candidate; readonly row: LeverRow }[]): Sets {
    const tried = entries.flatMap(({ candidate, row }, place): Tried[] =>
      row.verdict === 'gains' ? [{ place, row, relaxes: candidate.relaxes }] : [],
    );
    const options = { ...this.trials, isOver: () => this.isOver() };
    return combine(this.asked, this.present, tried, { ...options, finalists: FINALISTS });
  }

  private rowOf(candidate: Candidate): LeverRow {
    const { lever, drives, relaxes, cost } = candidate;
    const tried = this.tried.get(candidate)!;
    const bare = { lever, drives, warnings: [] };
    if (!isTrial(tried)) return { ...bare, ...UNTRIED, reason: { code: 'impossible', problems: tried } };
    const made = madeBeyond(this.present.planned, tried.planned);
    if (lever.code === 'fewer' && made !== null) return { ...bare, ...UNTRIED, reason: { code: 'made', made } };
    const futures = this.drawn.get(candidate) ?? 0;
    const ofPresent = Math.max(futures, ...this.drawn.values());
    const worth = worthOf(this.present, tried, { futures, ofPresent, relaxes, cost });
    const { warnings, neck } = this.factsOf(candidate, tried);
    const verdict = verdictOf(worth.compared);
    const reason = verdict === 'gains' ? null : { code: 'neck' as const, neck };
    return { ...bare, ...worth, verdict, warnings, reason };
  }

  private factsOf(candidate: Candidate, { planned }: Trial) {
    const known = this.facts.get(candidate);
    if (known !== undefined) return known;
    const warnings = hoursOf(planned).filter((it) => !this.usual.has(keyOfWarning(it)));
    const made = { warnings, neck: neckOf(planned) };
    this.facts.set(candidate, made);
    return made;
  }

  private offChainRow({ lever, drives }: Candidate): LeverRow {
    const reason = { code: 'off-chain' as const, neck: this.neck };
    return { lever, drives, warnings: [], ...UNTRIED, reason };
  }
}

/** The plan as it is, taken for what is on the sheets: what only adds to it is then planned no later. */
function keptPlanOf(planned: Planned): KeptSchedule {
  return keptScheduleOf({ lots: lotsAnswer(planned), steps: stepsAnswer(planned) });
}

type Sets = Pick<LeverSearch, 'pair' | 'triple' | 'takes'>;

const NO_SETS: Sets = { pair: null, triple: null, takes: null };
const UNTRIED = {
  readyAt: null,
  room: null,
  chance: null,
  compared: null,
  score: Number.NEGATIVE_INFINITY,
  verdict: 'nothing' as const,
};

function verdictOf(compared: LeverSet['compared']): LeverRow['verdict'] {
  if (compared === null) return 'nothing';
  const [gain, error] = [gainOf(compared), gainErrorOf(compared)];
  if (Math.abs(gain) < Math.max(LEAST_GAIN, 2 * error)) return 'nothing';
  return gain > 0 ? 'gains' : 'costs';
}

/** What gains comes first, then what gains nothing, then what costs. */
function orderOf({ verdict }: LeverRow): number {
  return ['gains', 'nothing', 'costs'].indexOf(verdict);
}

function hoursOf(planned: Planned) {
  return workHoursAnswer(planned, spellsOf(planned)).filter(({ person }) => person !== null);
}

function keyOfWarning({ code, person }: { readonly code: string; readonly person: string | null }): string {
  return `${code} ${person}`;
}
