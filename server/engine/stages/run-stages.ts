/** The stages in their order, from a build, its log and an instant to schedules. */
import type { Build, LogEntry, Problem } from '../../model/index.ts';
import { problem, warning } from '../../model/index.ts';
import { quantitiesOf } from '../01-quantities/index.ts';
import type { MeasuredPace } from '../02-steps/index.ts';
import { type StepPlan, stepPlansOf, withPaces } from '../02-steps/index.ts';
import { measuredPaces, pacesOf } from '../03-pace/index.ts';
import type { BuildWork } from '../04-lots/index.ts';
import { orphanProblems, stepFeedsOf } from '../04-lots/index.ts';
import type { Network } from '../05-network/index.ts';
import { untangledWork } from '../05-network/index.ts';
import {
  compile,
  DRIFT_MINUTES,
  type FormerPlan,
  type Levelled,
  type LevelOptions,
  level,
  levelBackwards,
  type PreviousPlan,
  previousPlanIn,
  remembered,
  withChoices,
  withWorkInHand,
} from '../07-levelling/index.ts';
import { settingOf } from '../calendar/index.ts';
import { tallyLog, timedEntries } from '../log/index.ts';
import type { Instant } from '../types.ts';
import { datesOfLots } from './dates.ts';
import { latePins } from './late-pins.ts';
import type { Planned } from './planned.ts';

/** What the stages may be given besides a build, its log and an instant. */
export interface StageOptions {
  /** Seed and budget of the levelling search; seed 1 and the levelling's own budget unless given. */
  readonly levelling?: LevelOptions;
  /** What stood on the sheets before (`formerPlanOf`): kept unless changing it gains real time. */
  readonly former?: FormerPlan;
  /** Paces that replace the estimates, by step; from the log unless given. */
  readonly paces?: ReadonlyMap<string, MeasuredPace>;
  /** Values that replace parameters, by name. */
  readonly given?: ReadonlyMap<string, number>;
}

/** What a build comes to before its answers are worded; the risk stage and the options begin here too. */
export function runStages(
  build: Build,
  log: readonly LogEntry[],
  now: Instant,
  options: StageOptions = {},
): { readonly planned: Planned; readonly network: Network; readonly problems: readonly Problem[] } {
  const { entries, problems } = timedEntries(log);
  const tally = tallyLog(entries);
  const setting = settingOf(build, now, tally.lost);
  const quantities = quantitiesOf(build, options.given);
  const { steps: estimated, problems: stepProblems } = stepPlansOf(build, setting, quantities, tally);
  const paces = options.paces === undefined ? pacesOf(estimated, tally, setting) : new Map();
  const plans = withPaces(estimated, options.paces ?? measuredPaces(paces));
  const { feeds: allFeeds, holds, problems: feedProblems } = stepFeedsOf(build, plans, quantities);
  const made = untangledWork(build, setting, plans, allFeeds, holds);
  const { feeds, network } = made;
  problems.push(
    ...setting.problems.filter(({ code }) => code !== 'event-past' || !isOver(plans)),
    ...quantities.problems,
    ...stepProblems,
    ...feedProblems,
    ...made.problems,
    ...orphanProblems(plans, feeds),
    ...made.work.problems,
  );
  if (made.work.lots.length === 0 && plans.length === 0 && build.steps.length === 0) {
    problems.push(
      warning('orphan', 'steps', 'none', 'There are no steps yet; add the first kind of work to see dates.'),
    );
  }
  const previous = options.former === undefined ? undefined : previousPlanIn(options.former, plans, made.work);
  const inHand = withWorkInHand(made.work, plans, tally.standing, setting, previous);
  const dates = datesOfLots(inHand, network, setting);
  const { work, forwards, backwards } = levelled(inHand, options, previous);
  const beyond = new Set(forwards?.beyond ?? []);
  if (beyond.size > 0) problems.push(beyondProblem(plans, work, beyond));
  const planned: Planned = {
    build,
    now,
    setting,
    quantities,
    tally,
    plans,
    paces,
    feeds,
    work,
    dates,
    schedule: forwards?.schedule ?? null,
    proof: forwards,
    backwards: backwards?.schedule ?? null,
    beyond,
    keepsDeadlines:
      forwards !== null &&
      work.lots.every((lot, l) => lot.spare === true || forwards.schedule.finishes[l]! <= lot.deadline),
  };
  problems.push(...latePins(planned));
  return { planned, network, problems: distinct(problems) };
}

/** Nothing is left to do: no other event is asked for where this one is past, and no spares for what was scrapped. */
function isOver(plans: readonly StepPlan[]): boolean {
  return plans.length > 0 && plans.every(({ left }) => left === 0);
}

interface BothWays {
  /** With the people that lots keep from the plan before, where they do. */
  readonly work: BuildWork;
  readonly forwards: Levelled | null;
  readonly backwards: Levelled | null;
}

function levelled(work: BuildWork, options: StageOptions, previous: PreviousPlan | undefined): BothWays {
  if (work.lots.length === 0) return { work, forwards: null, backwards: null };
  const levelling = { ...(options.levelling ?? { seed: 1 }), ...(previous === undefined ? {} : { previous }) };
  const keeping = remembered(work, previous);
  const compiled = compile(keeping);
  const forwards = level(keeping, levelling, compiled);
  return {
    // What comes of a future is not waited for as patiently as what is on the sheet.
    work: {
      ...keeping,
      lots: withChoices(keeping.lots, compiled.forward, forwards.choices),
      graceMinutes: Math.min(forwards.graceMinutes, DRIFT_MINUTES),
    },
    forwards,
    backwards: levelBackwards(keeping, levelling, compiled, forwards),
  };
}

function distinct(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter((found) => {
    const key = `${found.code} ${found.field} ${found.message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function beyondProblem(plans: readonly StepPlan[], work: BuildWork, beyond: ReadonlySet<number>): Problem {
  const names = [...new Set([...beyond].map((lot) => plans[work.lots[lot]!.step]!.name))];
  const list = names.slice(0, 5).join(', ');
  return problem(
    'beyond-horizon',
    'steps',
    list,
    `No time was found for ${list} within 200 days after the event: a sitting or a machine's hours are shorter than what must be done in one go, or the hours run out. Give longer hours or smaller lots.`,
  );
}
