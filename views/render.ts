/** The only file that knows which renderer we use. */
import type { ComponentChildren, VNode } from 'preact';
import { Fragment, h } from 'preact';
import { render, renderToStringAsync } from 'preact-render-to-string';
import { isolateRuns } from './isolate.ts';

export type Html = VNode;

const DOCTYPE = '<!doctype html>';
/** Milliseconds of drawing, after which it is others' turn. */
const LONGEST_TURN = 8;
/** What the renderer leaves where it has waited. */
const WAITED = '<!--$s--><!--/$s-->';

/** A whole page, with its doctype. Text and attributes are escaped. */
export function renderPage(page: Html): string {
  return `${DOCTYPE}${renderFragment(page)}`;
}

/** A fragment of a page, as swapped in by htmx. */
export function renderFragment(fragment: Html): string {
  turn.isShared = false;
  try {
    return isolateRuns(render(fragment));
  } finally {
    turn.isShared = true;
  }
}

/** A whole page, drawn in turns with others' work at its parts that are `InTurns`. */
export async function pageInTurns(page: Html): Promise<string> {
  return `${DOCTYPE}${await fragmentInTurns(page)}`;
}

/** A fragment, drawn in turns likewise. */
export async function fragmentInTurns(fragment: Html): Promise<string> {
  if (turn.over === null) turn.begun = performance.now();
  return isolateRuns((await renderToStringAsync(fragment)).replaceAll(WAITED, ''));
}

/**
 * Part of a page that may be drawn in a later turn than what is before it, so that nobody waits for all of a large
 * page. The text of the page is the same.
 */
export function InTurns({ children }: { children: ComponentChildren }): Html {
  return h(Fragment, null, h(Turn, null), children);
}

interface DrawingTurn {
  /** Milliseconds since some instant. */
  begun: number;
  /** Until others have had their turn, after it. */
  over: Promise<void> | null;
  /** False while something is drawn at once. */
  isShared: boolean;
}

/** The turn of all drawing that is under way. */
const turn: DrawingTurn = { begun: 0, over: null, isShared: true };

/** The renderer waits for a promise that is thrown, and draws what is around it from there on. */
function Turn(): null {
  if (!turn.isShared) return null;
  if (turn.over === null && performance.now() - turn.begun < LONGEST_TURN) return null;
  turn.over ??= new Promise((resolve) => setImmediate(resolve)).then(() => {
    turn.begun = performance.now();
    turn.over = null;
  });
  throw turn.over;
}
