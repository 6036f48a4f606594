/** Points to hang from, with who signs for them; and the gates at which the piece is switched on. */
import type { PowerOn, ShowPoint } from '../../model/index.ts';
import type { Evaluator } from '../01-quantities/index.ts';
import { lotsOfStep } from '../04-lots/index.ts';
import { lastStartOf, levelledOfLot } from '../10-answers/index.ts';
import { daysBetween, isInstant } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import { upToTenths } from './lifting.ts';

/**
 * Every point with its load against what it may carry. It is signed for once its gate has been passed and a competent
 * person is named, by the point or by the gate.
 */
export function pointsAnswer({ build, plans }: Planned, evaluator: Evaluator): ShowPoint[] {
  return (build.points ?? []).map(({ id, name, load: given, limit, gate, signedBy }) => {
    const load = evaluator.amount(given, `points.${id}.load`);
    const plan = gate === undefined ? undefined : plans.find((one) => one.id === gate && one.gate !== null);
    const person = signedBy ?? plan?.gate?.signedBy ?? null;
    return {
      id,
      name,
      load: load === null ? null : upToTenths(load),
      limit,
      by: load === null ? null : upToTenths(load - limit),
      gate: plan?.id ?? null,
      signedBy: person,
      signed: person !== null && plan !== undefined && plan.left === 0,
    };
  });
}

/**
 * The gates at which the piece is switched on, those at home first. At home it is to be done the day before the load-in
 * at the latest, so that a night is left for what fails (common practice, no source).
 */
export function powerAnswer(planned: Planned): PowerOn[] {
  const { plans, work } = planned;
  const gates = plans.filter(({ gate }) => gate?.powerOn === true);
  return [...gates.filter(({ onSite }) => !onSite), ...gates.filter(({ onSite }) => onSite)].map((plan) => {
    const { id, onSite, left } = plan;
    const lots = lotsOfStep(work, plans.indexOf(plan));
    const starts = lots.flatMap((i) => levelledOfLot(planned, i)?.start ?? []);
    const finishes = lots.flatMap((i) => levelledOfLot(planned, i)?.finish ?? []);
    const lasts = lots.map((i) => lastStartOf(planned, i)).filter(isInstant);
    return {
      gate: id,
      onSite,
      passed: left === 0,
      start: starts.length === 0 ? null : Math.min(...starts),
      last: lasts.length === 0 ? null : Math.min(...lasts),
      dayBefore: onSite || finishes.length === 0 ? null : isDayBefore(planned, Math.max(...finishes)),
    };
  });
}

/**
 * Whether what ends at an instant is through on an earlier day than the load-in, or than the event where there is none;
 * what ends at midnight is.
 */
function isDayBefore({ surroundings }: Planned, end: number): boolean {
  const { loadIn, event, zone } = surroundings;
  const target = loadIn ?? event;
  return end < target && daysBetween(end - 1, target + 1, zone).length > 1;
}
