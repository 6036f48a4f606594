/** The steps and their feeds as a graph: what is alone, and in what order the steps follow. */
import { Graph } from '@dagrejs/graphlib';
import type { Problem } from '../../model/index.ts';
import { problemTexts, warning } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { StepFeed } from './step-feeds.ts';

/**
 * A directed graph with a node for each step (its id) and an edge for each pair of steps with a feed between them.
 * O(steps + feeds).
 */
function stepGraphOf(plans: readonly PlannedStep[], feeds: readonly StepFeed[]): Graph {
  const graph = new Graph({ directed: true });
  for (const plan of plans) graph.setNode(plan.id, plan.name);
  for (const feed of feeds) if (graph.hasNode(feed.from) && graph.hasNode(feed.to)) graph.setEdge(feed.from, feed.to);
  return graph;
}

/**
 * Warns of steps that nothing feeds and that feed nothing, in a build that has feeds at all: usually a forgotten link
 * (the small-build reading of "all work sequenced", GAO-16-89G). A build whose steps all stand alone is left in peace.
 */
export function orphanProblems(plans: readonly PlannedStep[], feeds: readonly StepFeed[]): Problem[] {
  const graph = stepGraphOf(plans, feeds);
  if (graph.edgeCount() === 0) return [];
  const sinks = new Set(graph.sinks());
  return plans
    .filter((plan) => plan.total > 0 && sinks.has(plan.id) && graph.predecessors(plan.id)?.length === 0)
    .map((plan) => warning('orphan', `steps.${plan.id}`, plan.name, problemTexts.steps.orphan(plan.name)));
}
