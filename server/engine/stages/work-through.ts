/** The one pipeline: a case worked through, stage by stage, as deep as asked for. */
import type { Build } from '../../model/index.ts';
import { type Chosen, chosenOf, learntYields, type Quantities, quantitiesOf } from '../01-quantities/index.ts';
import { learntLeads, plannedStepsOf, withPaces, withRunFactors } from '../02-steps/index.ts';
import { measuredPaces, pacesOf, runFactors, runTimesOf, substitutedPaces } from '../03-pace/index.ts';
import { stepFeedsOf } from '../04-lots/index.ts';
import { untangledWork } from '../05-network/index.ts';
import { previousScheduleIn, withWorkInHand } from '../07-levelling/index.ts';
import { type Surroundings, surroundingsOf, withLearntLeads } from '../calendar/index.ts';
import { type Tally, tallyLog, timedEntries, withPauses } from '../log/index.ts';
import type { Case } from './case.ts';
import { datesOfLots } from './dates.ts';
import type { Dated, Ground, Planned, Remaining } from './planned.ts';
import { withSchedules } from './schedules.ts';

/** How far a case is worked through: to the lots that remain, to their dates, or to schedules that the hands can do. */
type Depth = 'work' | 'dates' | 'schedules';

/**
 * A case worked through. Each stage is a function of the case and of the stages before it, and nothing else:
 *
 *     ways        the build by the ways that are chosen for its parts, as if there were no others
 *     ground      setting and tally: who is there when, and what the log says has happened
 *     quantities  parameters and formulas, and how many of each part, at the yields that counting says
 *     steps       each kind of work with its units and minutes, at the paces that counting says
 *     work        the lots that remain, their links without circles, and who has one in hand
 *     dates       early and late dates, hands and machines unlimited
 *     schedules   what these hands and machines can do, forwards and backwards
 *
 * `known`: a case worked through before; what it has of the same hours, log and instant is taken over instead of worked
 * out again, so that cases that differ in values, paces and parts alone cost no calendars. Never throws for bad input:
 * see `problemsOf`. Deterministic.
 */
export function workThrough(asked: Case, depth: 'schedules', known?: Remaining): Planned;
export function workThrough(asked: Case, depth: 'dates', known?: Remaining): Dated;
export function workThrough(asked: Case, depth: 'work', known?: Remaining): Remaining;
export function workThrough(asked: Case, depth: Depth, known?: Remaining): Remaining {
  const chosen = chosenOf(asked.build, asked.overrides);
  const { build } = chosen;
  const ground = groundFrom({ ...asked, build }, asked, known) ?? groundOf({ ...asked, build });
  const remaining = remainingOf(
    asked,
    chosen,
    ground,
    quantitiesOf(build, asked.overrides, learntYields(build, ground.tally)),
  );
  if (depth === 'work') return remaining;
  const dated = withDates(remaining);
  return depth === 'dates' ? dated : withSchedules(dated);
}

/** The ground of a case worked through before: all of it, or, of a build with the same hours, its calendars. */
function groundFrom({ build, log, now }: Case, asked: Case, known: Remaining | undefined): Ground | null {
  if (known === undefined || known.asked.log !== log || known.asked.now !== now) return null;
  if (known.asked.build === asked.build) return known;
  if (!ON_THE_CLOCK.every((field) => isSame(known.asked.build[field], build[field]))) return null;
  return { ...known, surroundings: withLeads(build, known.asGiven, known.tally) };
}

/** The same value, or a list of the same things. */
function isSame(one: unknown, other: unknown): boolean {
  if (!Array.isArray(one) || !Array.isArray(other)) return one === other;
  return one.length === other.length && one.every((it, at) => it === other[at]);
}

/** What of a build is laid on the clock. */
const ON_THE_CLOCK = ['zone', 'start', 'event', 'readyBy', 'loadIn', 'people', 'machines', 'suppliers'] as const;

/** The first stage of a case. */
function groundOf({ build, log, now }: Case): Ground {
  const { entries, problems } = timedEntries(log);
  const tally = tallyLog(entries);
  const surroundings = surroundingsOf(build, now, tally.lost, tally.firstAt ?? now);
  return { surroundings: withLeads(build, surroundings, tally), asGiven: surroundings, tally, unread: problems };
}

function withLeads(build: Build, asGiven: Surroundings, tally: Tally): Surroundings {
  return withLearntLeads(asGiven, learntLeads(build, asGiven, tally));
}

/** Steps, then lots. */
function remainingOf(
  asked: Case,
  { build, problems: wrongWays }: Chosen,
  { surroundings, asGiven, tally, unread }: Ground,
  quantities: Quantities,
): Remaining {
  const { now, paces: substitutes, runs, former } = asked;
  const { steps, problems } = plannedStepsOf(build, surroundings, quantities, tally);
  const timed = { ...tally, standing: withPauses(tally.standing) };
  const paces =
    substitutes === undefined
      ? pacesOf(steps, timed, surroundings)
      : substitutedPaces(steps, timed, surroundings, substitutes);
  const runTimes = runTimesOf(steps, tally, surroundings);
  const plans = withRunFactors(withPaces(steps, substitutes ?? measuredPaces(paces)), runs ?? runFactors(runTimes));
  const { feeds: all, holds, problems: wrongFeeds } = stepFeedsOf(build, plans, quantities);
  const { work, feeds, network, problems: circles } = untangledWork(surroundings, plans, all, holds);
  const previous = former === undefined ? undefined : previousScheduleIn(former, plans, work);
  return {
    asked,
    build,
    now,
    surroundings,
    asGiven,
    tally,
    unread,
    quantities,
    plans,
    paces,
    runTimes,
    feeds,
    work: withWorkInHand(work, plans, timed.standing, surroundings, previous),
    network,
    previous,
    found: { steps: [...wrongWays, ...problems], feeds: wrongFeeds, circles },
  };
}

function withDates(remaining: Remaining): Dated {
  return { ...remaining, dates: datesOfLots(remaining.work, remaining.network, remaining.surroundings) };
}
