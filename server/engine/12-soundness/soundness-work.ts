/** Checks of the work itself: is all of it there, who does it, how long does it take, do the counts agree. */

import type { Hazard, MissingKind } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { lotsOfStep, routesOf, unitsOf } from '../04-lots/index.ts';
import { openMinutesBetween } from '../calendar/index.ts';
import type { Lot } from '../types.ts';
import { type Check, countCheck, type SoundnessSources } from './soundness-parts.ts';

const DAY = 1440;
/** Instead of the 44 working days of DCMA metric 8. */
const LONG_DAYS = 5;

/**
 * Words by which a step is known to be of a kind that gets forgotten; common practice, no source. English, as the demo
 * is.
 */
const KINDS: readonly { readonly kind: MissingKind; readonly words: RegExp }[] = [
  { kind: 'testing', words: /\b(test|check|soak|trial|rehears|inspect|prove)/i },
  { kind: 'packing', words: /\b(pack|crate|wrap|load the|box up)/i },
  { kind: 'drive', words: /\b(transport|drive|driving|van|truck|lorry|deliver|haul|ship|trailer|move to)/i },
  { kind: 'load-in', words: /\b(load.?in|set.?up|install|hang|put up|mount on site)/i },
];

/** Hazards of what is wet when the hands leave it. */
const WET_HAZARDS: readonly Hazard[] = ['spray', 'resins', 'isocyanates'];

/** Practice "all work captured": what is made has steps of its own. */
const noRoute: Check = ({ planned }) => {
  const made = [...planned.quantities.parts.values()].filter(
    ({ part, toMake }) => part.source === 'make' && toMake > 0,
  );
  if (made.length === 0) return null;
  const routes = routesOf(planned.plans);
  const bare = made.filter(({ part }) => !routes.has(part.id));
  return countCheck({
    code: 'no-route',
    value: bare.length,
    of: made.length,
    values: { parts: bare.map(({ part, toMake }) => ({ name: part.name, toMake })) },
  });
};

/**
 * The same practice: test, pack, drive and load-in exist, and what is wet dries. A build without a load-in stays where
 * it is made. The strike comes after the event, where a build ends.
 */
const missingKind: Check = ({ planned }) => {
  if (planned.plans.every(({ left }) => left === 0)) return null;
  const moves = planned.surroundings.loadIn !== null || planned.plans.some((plan) => plan.onSite);
  const asked = moves ? KINDS : KINDS.slice(0, 1);
  const missing = asked
    .filter(({ kind, words }) => !planned.plans.some((plan) => isOf(plan, kind, words)))
    .map(({ kind }) => kind);
  const wet = planned.plans.filter(
    (plan) => plan.left > 0 && plan.hazards.some((hazard) => WET_HAZARDS.includes(hazard)),
  );
  const dry = wet.every(
    (plan) => plan.phases.some(({ kind }) => kind === 'wait') || waitsAfter(planned.feeds, plan.id),
  );
  if (!dry) missing.push('drying');
  return countCheck({
    code: 'missing-kind',
    value: missing.length,
    of: asked.length + (wet.length > 0 ? 1 : 0),
    values: { kinds: missing },
  });
};

/**
 * Practice "resources assigned", metric 10. An error says it already: such a step is planned as if it needed nobody.
 */
const noHands: Check = ({ planned, forecast }) => {
  const open = planned.plans.filter((plan) => plan.left > 0);
  if (open.length === 0) return null;
  const nobody = forecast.problems.filter(({ code, severity }) => code === 'nobody' && severity === 'error');
  const ids = open.filter(({ id }) => nobody.some(({ field }) => field.split('.')[1] === id)).map(({ id }) => id);
  return countCheck({
    code: 'no-hands',
    value: ids.length,
    of: open.length,
    steps: ids,
    saidElsewhere: true,
    values: null,
  });
};

/** Practice "durations established": a step without any time. */
const noMinutes: Check = ({ planned }) => {
  const open = planned.plans.filter((plan) => plan.left > 0 && plan.kind === 'step');
  if (open.length === 0) return null;
  const bare = open.filter((plan) => !plan.phases.some(takesTime) && plan.setupMinutes === 0);
  return countCheck({
    code: 'no-minutes',
    value: bare.length,
    of: open.length,
    steps: bare.map(({ id }) => id),
    values: null,
  });
};

/** The same practice: minutes that nobody has timed, and that come from no handbook or supplier. */
const guessed: Check = ({ planned }) => {
  const open = planned.plans.filter((plan) => plan.left > 0 && plan.kind === 'step' && plan.phases.some(takesTime));
  if (open.length === 0) return null;
  const rest = open.filter((plan) => (planned.paces.get(plan.id)?.origin ?? plan.origin ?? 'guessed') === 'guessed');
  return countCheck({
    code: 'guessed',
    value: rest.length,
    of: open.length,
    steps: rest.map(({ id }) => id),
    values: null,
  });
};

/** Metric 8, in hands of one person or in hours of a machine, against the mean working day from now to the event. */
const longLot: Check = ({ planned, forecast }) => {
  const { work, plans, surroundings } = planned;
  const hours = forecast.days
    .map(({ start, end }) => openMinutesBetween(surroundings.working, start, end))
    .filter((it) => it > 0);
  if (hours.length === 0 || work.lots.length === 0) return null;
  const day = hours.reduce((sum, it) => sum + it, 0) / hours.length;
  const long = work.lots.filter(
    (lot) => minutesOf(lot, 'hands') > LONG_DAYS * day || minutesOf(lot, 'run') > LONG_DAYS * DAY,
  );
  const steps = [...new Set(long.map((lot) => plans[lot.step]!))];
  return countCheck({
    code: 'long-lot',
    value: long.length,
    of: work.lots.length,
    steps: steps.map(({ id }) => id),
    values: { days: LONG_DAYS, dayMinutes: day },
  });
};

/** Practice "traceable": the lots of a step hold what is left of it, its sets and its part all of it. */
const totals: Check = ({ planned }) => {
  const { plans, work, quantities } = planned;
  if (plans.length === 0) return null;
  const apart = plans.filter((plan, index) => {
    const inLots = lotsOfStep(work, index).reduce((sum, lot) => sum + unitsOf(work.lots[lot]!), 0);
    const inSets = plan.sets.reduce((sum, set) => sum + set.total, 0);
    const ofPart = plan.part === null ? undefined : quantities.parts.get(plan.part);
    return (
      inLots !== plan.left ||
      inSets !== plan.total ||
      (ofPart !== undefined && plan.total < ofPart.need - ofPart.onHand)
    );
  });
  return countCheck({
    code: 'totals',
    value: apart.length,
    of: plans.length,
    steps: apart.map(({ id }) => id),
    values: null,
  });
};

/** The checks of the work, in their order. */
export const WORK_CHECKS: readonly Check[] = [noRoute, missingKind, noHands, noMinutes, guessed, longLot, totals];

function isOf(plan: PlannedStep, kind: string, words: RegExp): boolean {
  return words.test(plan.name) || (kind === 'testing' && plan.kind === 'gate');
}

function waitsAfter(feeds: SoundnessSources['planned']['feeds'], id: string): boolean {
  return feeds.some((feed) => feed.from === id && feed.lagMinutes > 0);
}

function takesTime(phase: PlannedStep['phases'][number]): boolean {
  if (phase.kind === 'lead') return true;
  return phase.fixedMinutes > 0 || (phase.kind === 'hands' ? phase.firstUnitMinutes : phase.minutesPerUnit) > 0;
}

function minutesOf({ phases }: Lot, kind: 'hands' | 'run'): number {
  return phases.reduce((sum, phase) => sum + (phase.kind === kind ? phase.minutes : 0), 0);
}
