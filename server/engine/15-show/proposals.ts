/** What might go into a box and is in none. */
import type { Build, ForecastShow, PackProposal, ShowBox } from '../../model/index.ts';
import type { Planned } from '../stages/index.ts';
import type { ShowSources } from './show-sources.ts';
import { hasNoSpare } from './stops.ts';

/**
 * Proposals for the pack list: what goes to the site and is in no box, tools that steps on site name, one more of each
 * part without a spare, since it stops the show when it breaks, and what is measured (cord, oil) for repairs. Each
 * names the box that has the like already. Nothing where no work is left on site. O(boxes x (parts + tools)).
 */
export function proposalsOf(
  { planned, forecast }: ShowSources,
  boxes: readonly ShowBox[],
  unpacked: ForecastShow['unpacked'],
): PackProposal[] {
  if (planned.plans.every(({ onSite, left }) => !onSite || left === 0)) return [];
  const boxOf = (isLike: (box: ShowBox) => boolean): string | null => boxes.find(isLike)?.id ?? null;
  const spareBox = boxOf(({ parts }) => parts.some(({ spares }) => spares > 0));
  const kitBox = boxOf(({ kit }) => kit.length > 0);
  const own = new Set(planned.asked.build.parts?.map(({ id }) => id));
  const isLying = (line: string): boolean =>
    boxes.some(({ tools, kit }) => [...tools, ...kit].some((it) => mentions(it, line)));
  const { parts } = forecast;
  return [
    ...unpacked.flatMap(({ part, units, spares }): PackProposal[] => [
      ...(units === 0 ? [] : [{ code: 'units', of: part, units, box: boxOf((box) => hasUnits(box, part)) } as const]),
      ...(spares === 0 ? [] : [{ code: 'spares', of: part, units: spares, box: spareBox } as const]),
    ]),
    ...toolsOnSite(planned)
      .filter(([tool]) => !isLying(tool))
      .map(([of, steps]) => ({ code: 'tool', of, steps, box: boxOf(({ tools }) => tools.length > 0) }) as const),
    ...parts
      .filter((part) => own.has(part.id) && hasNoSpare(part, parts))
      .map(({ id }) => ({ code: 'one-more', of: id, box: spareBox }) as const),
    ...measuredIn(planned.asked.build)
      .filter(({ id }) => parts.some((part) => part.id === id && part.need > 0))
      .filter(
        ({ id, name }) => !isLying(name) && boxOf(({ parts: inBox }) => inBox.some((it) => it.part === id)) === null,
      )
      .map(({ id }) => ({ code: 'repair', of: id, box: kitBox }) as const),
  ];
}

function measuredIn({ parts = [] }: Build) {
  return parts.filter(({ unit }) => unit !== undefined);
}

function hasUnits({ parts }: ShowBox, part: string): boolean {
  return parts.some((it) => it.part === part && it.units > 0);
}

/** Tools of steps on site on which work is left, each once, in whatever case it is written, with these steps. */
function toolsOnSite({ build, plans }: Planned): [string, string[]][] {
  const open = new Set(plans.filter(({ onSite, left }) => onSite && left > 0).map(({ id }) => id));
  const tools = new Map<string, [string, string[]]>();
  for (const { id, tools: own = [] } of build.steps.filter((step) => open.has(step.id))) {
    for (const tool of own) {
      const key = tool.trim().toLowerCase();
      const [name, steps] = tools.get(key) ?? [tool, []];
      tools.set(key, [name, [...steps, id]]);
    }
  }
  return [...tools.values()];
}

/** Whether what is written of a box says so: its line has the words, in whatever case. */
function mentions(line: string, words: string): boolean {
  return line.toLowerCase().includes(words.trim().toLowerCase());
}
