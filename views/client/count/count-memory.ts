/** The last state of the count that this phone has heard of, for a page that is opened from an older copy. */
import type { CountState } from '../outbox/count-wire.ts';

/** The last state is kept beside the outbox, for a page that is opened from its copy. */
export function remember(news: CountState): void {
  try {
    localStorage.setItem(stateKey(news.build), JSON.stringify(news));
  } catch {
    // A browser that keeps nothing has said so already.
  }
}

/** A state of another shape, which an older page kept, is under another name. */
function stateKey(build: string): string {
  return `daywright-state-2:${build}`;
}

function recall(build: string): CountState | null {
  try {
    return JSON.parse(localStorage.getItem(stateKey(build)) ?? 'null') as CountState | null;
  } catch {
    return null;
  }
}

/** Who counts on this phone, as they said it last; null where they never did. */
export function recallMe(build: string): string | null {
  try {
    return localStorage.getItem(`daywright-me:${build}`);
  } catch {
    return null;
  }
}

/** Keeps who counts on this phone. */
export function rememberMe(build: string, person: string): void {
  try {
    localStorage.setItem(`daywright-me:${build}`, person);
  } catch {
    // A browser that keeps nothing has said so already.
  }
}

/** The state on the page, unless an older copy of the page was opened. */
export function newest(page: CountState): CountState {
  const kept = recall(page.build);
  if (kept === null || !Array.isArray(kept.doubts) || kept.build !== page.build || kept.revision !== page.revision)
    return page;
  return kept.logSeq > page.logSeq && shapeOf(kept) === shapeOf(page) ? kept : page;
}

/** Two states with the same shape can be drawn on the same tickets. */
export function shapeOf({ steps }: CountState): string {
  return JSON.stringify(
    steps.map(({ id, name, kind, lotSize, sets }) => [id, name, kind, lotSize, sets.map((s) => s.set)]),
  );
}
