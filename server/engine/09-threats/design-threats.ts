/** Threats of the design itself: limits that it does not keep, and units that nobody has looked at since a change. */
import type { Forecast, ForecastLimit, Threat } from '../../model/index.ts';
import type { Instant } from '../types.ts';

type Given = Omit<Forecast, 'threats'>;

/** A limit that is broken, or that may come out so, with the parts it concerns by their names. */
export function limitThreats({ limits = [], parts }: Given, now: Instant): Threat[] {
  const named = new Map(parts.map(({ id, name }) => [id, name]));
  return limits.flatMap((limit): Threat[] => {
    const { state, low, high } = limit;
    if (low === null || high === null || (state !== 'broken' && state !== 'may-break')) return [];
    const concerned = limit.parts.map((id) => named.get(id) ?? id);
    return [
      {
        code: 'limit',
        step: null,
        costMinutes: 0,
        since: now,
        values: { ...valuesOf(limit), low, high, parts: concerned },
      },
    ];
  });
}

function valuesOf({ id, name, unit, value, least, most, state }: ForecastLimit) {
  return { id, name, unit, value, least, most, isBroken: state === 'broken' };
}

/** Each part with units that were made or ordered before a change, while nobody has said whether they are good. */
export function uncheckedThreats({ parts, steps }: Given, now: Instant): Threat[] {
  const there = new Set(steps.map(({ id }) => id));
  return parts.flatMap((part): Threat[] => {
    const unchecked = part.unchecked ?? [];
    const units = unchecked.reduce((sum, one) => sum + one.units, 0);
    if (units === 0) return [];
    const step = unchecked.find((one) => one.step !== undefined && there.has(one.step))?.step ?? null;
    const because = unchecked[0]!.because ?? null;
    return [
      {
        code: 'unchecked',
        step,
        costMinutes: 0,
        since: now,
        values: { part: part.id, name: part.name, units, because },
      },
    ];
  });
}
