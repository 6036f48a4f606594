/** Parameters with their values, and what uses each of them. */
import type { Build, ForecastParameter, Parameter, ParameterUse } from '../../model/index.ts';
import { dependentsOf, type Quantities, type TieKind, tiesOf } from '../01-quantities/index.ts';

/** Every parameter with its value, or null where it could not be worked out. */
export function parametersAnswer(build: Build, quantities: Quantities): ForecastParameter[] {
  return (build.parameters ?? []).map((parameter) => parameterAnswer(parameter, quantities));
}

function parameterAnswer(parameter: Parameter, quantities: Quantities): ForecastParameter {
  return {
    name: parameter.name,
    value: quantities.values.get(parameter.name) ?? null,
    low: parameter.range?.low ?? null,
    high: parameter.range?.high ?? null,
    formula: parameter.formula ?? null,
    unit: parameter.unit ?? null,
    origin: parameter.origin ?? (parameter.range === undefined ? null : 'guessed'),
  };
}

/**
 * For each parameter, the parts whose drawing or count names it and the steps whose counts or minutes do, through
 * formulas too: whatever named ties reach from it. What only follows from these is left out. O(parameters x uses).
 */
export function usesAnswer(build: Build): ParameterUse[] {
  const ties = tiesOf(build);
  return (build.parameters ?? []).map(({ name }) => {
    const reached = dependentsOf(ties, [{ kind: 'parameter', id: name }], 'named');
    const idsOf = (...kinds: readonly TieKind[]) =>
      new Set(reached.filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id));
    const [parts, steps] = [idsOf('count', 'drawing'), idsOf('units', 'time')];
    return {
      parameter: name,
      parts: (build.parts ?? []).filter(({ id }) => parts.has(id)).map(({ id }) => id),
      steps: build.steps.filter(({ id }) => steps.has(id)).map(({ id }) => id),
    };
  });
}
