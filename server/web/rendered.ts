/** Sheets that are rendered once for all who see them: the same sheet of a state, in a language, is the same text. */
import { language } from '../../views/language.ts';
import type { BuildPage } from '../../views/types.ts';
import type { Planner } from '../planner/types.ts';

export interface Rendered {
  /**
   * The text under `address` (a sheet or a page, with what is asked of it) of the state that `page` shows; made where
   * it is not there.
   */
  of(page: BuildPage, address: string, make: () => string): string;
}

/** Characters that are kept at most, of all builds together. */
const MOST_CHARACTERS = 20_000_000;

/** Texts are kept until anything of their build changes, or there are too many: then the oldest go. */
export function createRendered(planner: Pick<Planner, 'onChange'>): Rendered {
  const kept = new Map<string, { readonly build: string; readonly text: string }>();
  let characters = 0;
  const drop = (key: string): void => {
    characters -= kept.get(key)?.text.length ?? 0;
    kept.delete(key);
  };
  planner.onChange((id, what) => {
    if (what === 'work') return;
    for (const [key, { build }] of kept) if (build === id) drop(key);
  });
  return {
    of: (page, address, make) => {
      const key = `${language()} ${address} ${stateOf(page)}`;
      const there = kept.get(key);
      if (there !== undefined) return there.text;
      const text = make();
      kept.set(key, { build: page.build.id, text });
      characters += text.length;
      for (const [oldest] of kept) {
        if (characters <= MOST_CHARACTERS) break;
        drop(oldest);
      }
      return text;
    },
  };
}

/** All that a page shows beside its forecast. */
function stateOf({ build, seen, revision, stale, behind, saved, light }: BuildPage): string {
  return JSON.stringify([build.id, seen, revision, stale, behind ?? null, saved ?? null, light]);
}
