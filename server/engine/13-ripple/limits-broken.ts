/** The limits that a change breaks or mends. */
import type { Build, RippleLimit } from '../../model/index.ts';
import { createEvaluator, isBroken, type LimitValue, limitValues, solveParameters } from '../01-quantities/index.ts';

/**
 * Those of the limits that the build has after a change: their values and whether they are broken, before and after.
 */
export function limitsBroken(before: Build, after: Build, ids: ReadonlySet<string>): RippleLimit[] {
  const was = new Map(valuesIn(before).map((found) => [found.limit.id, found]));
  return valuesIn(after)
    .filter(({ limit }) => ids.has(limit.id))
    .map((found) => {
      const { limit, value, least, most } = found;
      const old = was.get(limit.id);
      return {
        limit: limit.id,
        name: limit.name,
        unit: limit.unit ?? null,
        value,
        least,
        most,
        isBroken: isBroken(found),
        wasBroken: old !== undefined && isBroken(old),
      };
    });
}

function valuesIn(build: Build): LimitValue[] {
  const { values } = solveParameters(build.parameters ?? []);
  return limitValues(build.limits ?? [], createEvaluator(values), []);
}
