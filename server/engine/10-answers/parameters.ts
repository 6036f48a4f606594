/** Parameters with their values, and what uses each of them. */
import { Graph } from '@dagrejs/graphlib';
import type { Build, ForecastParameter, Parameter, ParameterUse } from '../../model/index.ts';
import { parseFormula, type Quantities, readDuration } from '../01-quantities/index.ts';

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
 * For each parameter, the parts whose drawing depends on it and the steps whose counts or minutes use it, through
 * formulas too: whatever can be reached from it in the graph of uses. O(parameters x uses).
 */
export function usesAnswer(build: Build): ParameterUse[] {
  const graph = usesGraph(build);
  return (build.parameters ?? []).map(({ name }) => {
    const reached = reachedFrom(graph, `parameter ${name}`);
    return {
      parameter: name,
      parts: (build.parts ?? []).filter(({ id }) => reached.has(`part ${id}`)).map(({ id }) => id),
      steps: build.steps.filter(({ id }) => reached.has(`step ${id}`)).map(({ id }) => id),
    };
  });
}

/** A node for each parameter, part and step, and an edge from each parameter to whatever names it. */
function usesGraph(build: Build): Graph {
  const graph = new Graph({ directed: true });
  const use = (user: string, names: readonly string[]): void => {
    for (const name of names) graph.setEdge(`parameter ${name}`, user);
  };
  for (const { name, formula } of build.parameters ?? []) use(`parameter ${name}`, namesIn(formula));
  for (const part of build.parts ?? []) {
    const counts = [part.count, part.spares, ...(part.usedIn ?? []).map(({ count }) => count)];
    use(`part ${part.id}`, [...(part.dependsOn ?? []), ...counts.flatMap(namesIn)]);
  }
  for (const step of build.steps) use(`step ${step.id}`, namesInStep(step));
  return graph;
}

/** All nodes behind `from`, itself among them. The library's own walks recurse, and a chain of formulas may be long. */
function reachedFrom(graph: Graph, from: string): Set<string> {
  const reached = new Set([from]);
  for (const node of reached) for (const next of graph.successors(node) ?? []) reached.add(next);
  return reached;
}

function namesInStep(step: Build['steps'][number]): string[] {
  const texts: unknown[] = [step.count, step.takes, step.setup, step.lotSize];
  for (const phase of step.phases ?? []) {
    if ('minutes' in phase) texts.push(phase.minutes);
    if ('perUnit' in phase) texts.push(phase.perUnit);
  }
  return texts.flatMap(namesIn);
}

function namesIn(text: unknown): readonly string[] {
  if (typeof text !== 'string' || readDuration(text) !== null) return [];
  const parsed = parseFormula(text);
  return parsed.ok ? parsed.formula.names : [];
}
