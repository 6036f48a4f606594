/** What of the show a change reaches: boxes, points to hang from, jobs of the strike. */
import type { Amount, Box, Build, Ripple } from '../../model/index.ts';
import { createEvaluator, namesInAmount, solveParameters } from '../01-quantities/index.ts';

/** Ids of what the graph of ties reaches, by what they are; `parameters` and `parts`: those that are reached too. */
interface Reached {
  readonly boxes: ReadonlySet<string>;
  readonly points: ReadonlySet<string>;
  readonly strike: ReadonlySet<string>;
  readonly parameters: ReadonlySet<string>;
  readonly parts: ReadonlySet<string>;
}

/**
 * The boxes, points and jobs that the build has after a change and that it reaches, with their numbers before and after
 * it; null where there is none, or where it cannot be worked out.
 */
export function showReached(
  before: Build,
  after: Build,
  { boxes, points, strike, parameters, parts }: Reached,
): Pick<Ripple, 'boxes' | 'points' | 'strike'> {
  const [was, is] = [before, after].map((build) => createEvaluator(solveParameters(build.parameters ?? []).values));
  const old = <T extends { readonly id: string }>(list: readonly T[] | undefined, id: string): T | undefined =>
    list?.find((one) => one.id === id);
  const measured = new Set((after.parts ?? []).filter(({ unit }) => unit !== undefined).map(({ id }) => id));
  const numbers = (how: 'amount' | 'count' | 'measure' | 'span', given: Amount | undefined, now: Amount) => ({
    before: given === undefined ? null : was![how](given, ''),
    after: is![how](now, ''),
  });
  const isReached = ({ part, count }: NonNullable<Box['parts']>[number]): boolean =>
    parts.has(part) || namesInAmount(count).some((name) => parameters.has(name));
  return {
    boxes: (after.boxes ?? [])
      .filter(({ id }) => boxes.has(id))
      .map(({ id, name, parts: boxed = [] }) => {
        const there = old(before.boxes, id)?.parts ?? [];
        return {
          box: id,
          name,
          parts: boxed.filter(isReached).map(({ part, count, spare }) => {
            const same = there.find((one) => one.part === part && one.spare === spare);
            return {
              part,
              spare: spare ?? false,
              ...numbers(measured.has(part) ? 'measure' : 'count', same?.count, count),
            };
          }),
        };
      }),
    points: (after.points ?? [])
      .filter(({ id }) => points.has(id))
      .map(({ id, name, load }) => ({ point: id, name, ...numbers('amount', old(before.points, id)?.load, load) })),
    strike: (after.strike ?? [])
      .filter(({ id }) => strike.has(id))
      .map(({ id, name, minutes }) => ({
        job: id,
        name,
        ...numbers('span', old(before.strike, id)?.minutes, minutes),
      })),
  };
}
