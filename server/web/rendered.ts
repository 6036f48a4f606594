/** Sheets that are rendered once for all who see them: the same sheet of a state, in a language, is the same text. */

import type { BuildPage } from '../../views/types.ts';
import { language } from '../model/texts/language.ts';
import type { Planner } from '../planner/types.ts';

export interface Rendered {
  /**
   * The text under `address` (a sheet or a page, with what is asked of it) of the state that `page` shows; made where
   * it is not there, once for all who ask meanwhile.
   */
  of(page: BuildPage, address: string, make: () => Promise<string>): Promise<string>;
}

/** Characters that are kept at most, of all builds together. */
const MOST_CHARACTERS = 20_000_000;

/** Texts are kept until anything of their build changes, or there are too many: then the oldest go. */
export function createRendered(planner: Pick<Planner, 'onChange'>): Rendered {
  const kept = new Map<string, { readonly build: string; readonly text: string }>();
  /** What is being made; taken out where its build changes meanwhile: then it is for those alone who asked before. */
  const coming = new Map<string, { readonly build: string; readonly text: Promise<string> }>();
  let characters = 0;
  const drop = (key: string): void => {
    characters -= kept.get(key)?.text.length ?? 0;
    kept.delete(key);
  };
  planner.onChange((id, what) => {
    if (what === 'work') return;
    for (const [key, { build }] of kept) if (build === id) drop(key);
    for (const [key, { build }] of coming) if (build === id) coming.delete(key);
  });
  const keep = (key: string, build: string, text: string): void => {
    kept.set(key, { build, text });
    characters += text.length;
    for (const [oldest] of kept) {
      if (characters <= MOST_CHARACTERS) break;
      drop(oldest);
    }
  };
  return {
    of: async (page, address, make) => {
      const key = `${language()} ${address} ${stateOf(page)}`;
      const there = kept.get(key) ?? coming.get(key);
      if (there !== undefined) return there.text;
      const { id } = page.build;
      const one = { build: id, text: make() };
      coming.set(key, one);
      try {
        const text = await one.text;
        if (coming.get(key) === one) keep(key, id, text);
        return text;
      } finally {
        if (coming.get(key) === one) coming.delete(key);
      }
    },
  };
}

/** All that a page shows beside its forecast. */
function stateOf({ build, seen, revision, stale, behind, saved, light }: BuildPage): string {
  return JSON.stringify([build.id, seen, revision, stale, behind ?? null, saved ?? null, light]);
}
