/** The only file that knows which renderer we use. */
import type { ComponentChildren, VNode } from 'preact';
import { Fragment, h } from 'preact';
import { render, renderToStringAsync } from 'preact-render-to-string';
import { hasRuns, isolateRuns } from './isolate.ts';

export type Html = VNode;

const DOCTYPE = '<!doctype html>';
/** Milliseconds of drawing, after which it is others' turn. */
const LONGEST_TURN = 8;
/** Characters of a page that are gone through at once: some milliseconds. */
const AT_ONCE = 128 * 1024;
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
  return finished(await renderToStringAsync(fragment));
}

/** What was drawn, without the renderer's marks and with its runs isolated; of a large page in turns too. */
async function finished(drawn: string): Promise<string> {
  const pieces: string[] = [];
  let hasRight = false;
  for (let from = 0; from < drawn.length; ) {
    const to = cutFrom(drawn, from + AT_ONCE);
    const piece = drawn.slice(from, to).replaceAll(WAITED, '');
    hasRight ||= hasRuns(piece);
    pieces.push(piece);
    from = to;
    if (from < drawn.length) await new Promise((resolve) => setImmediate(resolve));
  }
  const text = pieces.join('');
  return hasRight ? isolateRuns(text) : text;
}

/** Where a page may be cut from here on: before a tag, and so in none of the marks. */
function cutFrom(drawn: string, at: number): number {
  let cut = drawn.indexOf('<', at);
  while (cut >= 0 && drawn.startsWith('<!--', cut)) cut = drawn.indexOf('<', cut + 1);
  return cut < 0 ? drawn.length : cut;
}

/**
 * Part of a page that may be drawn in a later turn than what is before it, so that nobody waits for all of a large
 * page. The text of the page is the same.
 *
 *     markup(InTurns({ children: 'a row' })) // 'a row'
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

/**
 * The renderer waits for a promise that is thrown, and draws what is around it from there on. If another part of the
 * page goes wrong before, the renderer gives the page up, and nobody hears what goes wrong in this part: unheard, it
 * would end the server.
 */
function Turn(): null {
  if (!turn.isShared) return null;
  if (turn.over === null && performance.now() - turn.begun < LONGEST_TURN) return null;
  turn.over ??= new Promise((resolve) => setImmediate(resolve)).then(() => {
    turn.begun = performance.now();
    turn.over = null;
  });
  const { over } = turn;
  throw {
    // biome-ignore lint/suspicious/noThenProperty: the renderer knows a promise by it
    then: (draw: () => string): Promise<string> => {
      const drawn = over.then(draw);
      drawn.catch(() => {});
      return drawn;
    },
  };
}
