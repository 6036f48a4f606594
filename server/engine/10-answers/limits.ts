/** The limits of the design: what each comes to, over all that its parameters may still be, and whom it concerns. */
import type { Build, ForecastLimit } from '../../model/index.ts';
import {
  createEvaluator,
  dependentsOf,
  isBroken,
  type LimitValue,
  limitValues,
  solveParameters,
  type Tied,
  type Ties,
  tiesOf,
} from '../01-quantities/index.ts';
import type { Planned } from '../stages/index.ts';
import { cornersOf, uncertainIn } from './corners.ts';

/**
 * Every limit with its value at the likely values, the least and the most it comes to at the corners of what is not
 * known yet, and the parts it concerns: those it names, and those whose drawing or count names a parameter that it
 * rests on. `broken`: by the likely values; `may-break`: at some corner. O(limits x corners).
 */
export function limitsAnswer(planned: Planned): ForecastLimit[] {
  const { build, asked, quantities } = planned;
  if (quantities.limits.length === 0) return [];
  const corners = cornersOf(uncertainIn(planned)).map((corner) =>
    limitsAt(build, new Map([...(asked.overrides ?? []), ...corner])),
  );
  const ties = tiesOf(build);
  const parametersOf = parametersByLimit(build, ties);
  return quantities.limits.map((found, i) => {
    const { limit, value, least, most } = found;
    const ends = [found, ...corners.map((corner) => corner[i]!)];
    const values = ends.flatMap((end) => end.value ?? []);
    const parameters = parametersOf.get(limit.id) ?? [];
    return {
      id: limit.id,
      name: limit.name,
      unit: limit.unit ?? null,
      value,
      low: values.length === 0 ? null : Math.min(...values),
      high: values.length === 0 ? null : Math.max(...values),
      least,
      most,
      state: value === null ? 'unknown' : isBroken(found) ? 'broken' : ends.some(isBroken) ? 'may-break' : 'kept',
      parts: partsOf(build, ties, limit.parts ?? [], parameters),
    };
  });
}

function limitsAt(build: Build, overrides: ReadonlyMap<string, number>): LimitValue[] {
  const { values } = solveParameters(build.parameters ?? [], overrides);
  return limitValues(build.limits ?? [], createEvaluator(values), []);
}

/** By limit, every parameter that it rests on, through formulas too. */
function parametersByLimit(build: Build, ties: Ties): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const { name } of build.parameters ?? []) {
    for (const { kind, id } of dependentsOf(ties, [{ kind: 'parameter', id: name }], 'named')) {
      if (kind === 'limit') found.set(id, [...(found.get(id) ?? []), name]);
    }
  }
  return found;
}

function partsOf(build: Build, ties: Ties, named: readonly string[], parameters: readonly string[]): string[] {
  const from = parameters.map((id): Tied => ({ kind: 'parameter', id }));
  const reached = dependentsOf(ties, from, 'named').filter(({ kind }) => kind === 'count' || kind === 'drawing');
  const concerned = new Set([...named, ...reached.map(({ id }) => id)]);
  return (build.parts ?? []).filter(({ id }) => concerned.has(id)).map(({ id }) => id);
}
