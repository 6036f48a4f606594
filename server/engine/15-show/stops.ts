/** What could stop the show: each as a code with its values, the worst kinds first. */
import type { ForecastPart, ForecastShow, ShowStop } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { type SigningGate, signingGates } from '../12-soundness/index.ts';
import type { Planned } from '../stages/index.ts';
import type { ShowSources } from './show-sources.ts';

/**
 * The open points: too late on site; points that carry too much, or that nobody has signed for; hazards without a gate
 * at which somebody competent signs; no certificate; gates not passed; no power-on at home or at the venue; what does
 * not go into or through something; what is in no box, where there are boxes; parts without a spare; questions without
 * an answer. None once nothing is left to be done.
 */
export function stopsOf(
  { planned, forecast }: ShowSources,
  show: Omit<ForecastShow, 'stops' | 'notNeeded'>,
): ShowStop[] {
  if (planned.plans.every(({ left }) => left === 0)) return [];
  const late = forecast.room.event.clock ?? 0;
  return [
    ...(late < 0 ? [{ code: 'late', by: -late } as const] : []),
    ...pointStops(show),
    ...unsignedStops(forecast.soundness),
    ...certificateStops(planned),
    ...planned.plans.flatMap(({ kind, id, left }): ShowStop[] =>
      kind === 'gate' && left > 0 ? [{ code: 'gate-open', gate: id, left }] : [],
    ),
    ...powerStops(planned, show),
    ...wayStops(show),
    ...(show.boxes.length === 0 ? [] : show.unpacked.map((units) => ({ code: 'unpacked', ...units }) as const)),
    ...forecast.parts.flatMap((part) => (hasNoSpare(part, forecast.parts) ? [noSpare(part, forecast.parts)] : [])),
    ...forecast.decisions.flatMap(({ id, decided, decideBy }): ShowStop[] =>
      decided === null ? [{ code: 'undecided', decision: id, by: decideBy }] : [],
    ),
  ];
}

function pointStops({ points }: Pick<ForecastShow, 'points'>): ShowStop[] {
  const unsigned = points.flatMap(({ id, signed }) => (signed ? [] : [id]));
  return [
    ...points.flatMap(({ id, by }): ShowStop[] =>
      by !== null && by > 0 ? [{ code: 'point-over', point: id, by }] : [],
    ),
    ...(unsigned.length === 0 ? [] : [{ code: 'point-unsigned', points: unsigned } as const]),
  ];
}

function unsignedStops(soundness: ShowSources['forecast']['soundness']): ShowStop[] {
  const found = soundness?.find((check) => check.code === 'unsigned');
  return found?.code === 'unsigned' && found.values !== null
    ? found.values.open.map((open) => ({ code: 'unsigned', ...open }))
    : [];
}

/**
 * Decor whose certificate nobody has seen: none has come as what the step itself orders, and no gate behind it looks
 * for one. A piece for the public asks for one though no step or gate speaks of it. What the maker says is here answers
 * all of them; whether it is enough, local codes and the venue decide.
 */
function certificateStops(planned: Planned): ShowStop[] {
  const { build, plans } = planned;
  if (build.certificate !== undefined) return [];
  if (plans.every(({ hazards }) => !hazards.includes('public-decor'))) {
    return build.forPublic === true ? [{ code: 'no-certificate', step: null }] : [];
  }
  const gates = signingGates(planned).filter(({ plan }) => plan.hazards.includes('public-decor'));
  const isSeen = (step: string): boolean =>
    gates.some(({ behind, direct }: SigningGate) => behind.has(step) || direct.has(step));
  const isHere = ({ left, phases }: PlannedStep): boolean => left === 0 && phases.some(({ kind }) => kind === 'lead');
  return plans
    .filter(({ kind, hazards }) => kind !== 'gate' && hazards.includes('public-decor'))
    .filter((plan) => !isSeen(plan.id) && !isHere(plan))
    .map(({ id }) => ({ code: 'no-certificate', step: id }));
}

const POWERED = ['mains', 'outdoor-mains', 'batteries', 'moving-parts'] as const;

/** Only of what has power: as its hazards say, or a power-on that is there. */
function powerStops({ plans }: Planned, { power }: Pick<ForecastShow, 'power'>): ShowStop[] {
  const isPowered = power.length > 0 || plans.some(({ hazards }) => POWERED.some((one) => hazards.includes(one)));
  if (!isPowered || plans.every(({ onSite }) => !onSite)) return [];
  const stops: ShowStop[] = [];
  if (power.every(({ onSite }) => onSite)) stops.push({ code: 'no-power-on', where: 'home' });
  if (power.every(({ onSite }) => !onSite)) stops.push({ code: 'no-power-on', where: 'venue' });
  return stops;
}

function wayStops({ passages }: Pick<ForecastShow, 'passages'>): ShowStop[] {
  return passages.flatMap(({ id, noFit, weight }): ShowStop[] => [
    ...noFit.map(({ box, over }): ShowStop => {
      const worst = over.reduce((most, one) => (one.by > most.by ? one : most));
      return { code: 'no-fit', box, passage: id, ...worst };
    }),
    ...(weight !== null && weight.by > 0 ? [{ code: 'overloaded', passage: id, by: weight.by } as const] : []),
  ]);
}

/** Single things that break: what is made of other pieces is repaired with those, and what is measured is left out. */
export function hasNoSpare(part: ForecastPart, parts: readonly ForecastPart[]): boolean {
  const isMadeOfParts = parts.some(
    (one) => one.shareOf !== part.id && one.measure === undefined && goesInto(one, part.id),
  );
  if (part.need === 0 || part.measure !== undefined || part.shareOf !== undefined || isMadeOfParts) return false;
  return (part.toSpare ?? part.spares) < 1;
}

/** Where a part is split, all units of it are needed by whatever way they come. */
function noSpare({ id, need }: ForecastPart, parts: readonly ForecastPart[]): ShowStop {
  const others = parts.filter((one) => one.shareOf === id && !goesInto(one, id));
  return { code: 'no-spare', part: id, need: others.reduce((sum, one) => sum + one.need, need) };
}

function goesInto({ usedIn }: ForecastPart, part: string): boolean {
  return usedIn.some((use) => use.part === part);
}
