/** The only file that knows which renderer we use. */
import type { ComponentChildren, VNode } from 'preact';
import { createContext, Fragment, h } from 'preact';
import { render, renderToStringAsync } from 'preact-render-to-string';
import { isTurnOver, othersTurn } from '../server/turns/turns.ts';
import { hasRuns, isolateRuns } from './isolate.ts';

export type Html = VNode;

const DOCTYPE = '<!doctype html>';
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
  return isolateRuns(render(fragment));
}

/** A whole page, drawn in turns with others' work at its parts that are `InTurns`. */
export async function pageInTurns(page: Html): Promise<string> {
  return `${DOCTYPE}${await fragmentInTurns(page)}`;
}

/** A fragment, drawn in turns likewise. */
export async function fragmentInTurns(fragment: Html): Promise<string> {
  return finished(await renderToStringAsync(h(Drawn.Provider, { value: drawing() }, fragment)));
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
    if (isTurnOver()) await othersTurn();
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

/** Parts of a list that wait together: each that waits by itself costs something with every turn that is over. */
const WAIT_TOGETHER = 40;

/**
 * A list each of whose parts may be drawn in a later turn, whatever its length. The text of the page is the same.
 *
 *     markup(ListInTurns({ children: ['a row', 'another'] })) // 'a rowanother'
 */
export function ListInTurns({ children }: { children: readonly ComponentChildren[] }): Html {
  const size = Math.max(WAIT_TOGETHER, Math.ceil(Math.sqrt(children.length)));
  if (children.length <= size) return h(Fragment, null, ...children.map((one) => h(InTurns, { children: one })));
  const groups = Array.from({ length: Math.ceil(children.length / size) }, (_, i) =>
    h(ListInTurns, { children: children.slice(i * size, (i + 1) * size) }),
  );
  return h(Fragment, null, ...groups.map((group) => h(InTurns, { children: group })));
}

/** A page that is drawn in turns: gives each of its parts that waits a later turn. */
type Drawing = () => Promise<void>;

/** Null: the page is drawn at once. */
const Drawn = createContext<Drawing | null>(null);

/** A page takes one place among all that wait for a turn, however many of its parts do. */
function drawing(): Drawing {
  let waiting: (() => void)[] = [];
  let isDrawing = false;
  const draw = async (): Promise<void> => {
    isDrawing = true;
    while (waiting.length > 0) {
      await othersTurn();
      const before = waiting;
      waiting = [];
      let n = 0;
      do {
        before[n++]!();
        // The part is drawn before this goes on.
        await null;
      } while (n < before.length && !isTurnOver());
      waiting = [...before.slice(n), ...waiting];
    }
    isDrawing = false;
  };
  return () =>
    new Promise((resolve) => {
      waiting.push(resolve);
      if (!isDrawing) void draw();
    });
}

/** A part that has waited is drawn, however short the turn that it was given. */
let hasWaited = false;

/**
 * The renderer waits for a promise that is thrown, and draws what is around it from there on. If another part of the
 * page goes wrong before, the renderer gives the page up, and nobody hears what goes wrong in this part: unheard, it
 * would end the server.
 */
function Turn(_: object, drawn: Drawing | null): null {
  if (drawn === null || hasWaited || !isTurnOver()) {
    hasWaited = false;
    return null;
  }
  const over = drawn();
  throw {
    // biome-ignore lint/suspicious/noThenProperty: the renderer knows a promise by it
    then: (draw: () => unknown): Promise<unknown> => {
      const part = over.then(() => {
        hasWaited = true;
        return inOne(draw());
      });
      part.catch(() => {});
      return part;
    },
  };
}
Turn.contextType = Drawn;

/**
 * What was drawn, its text in one: it is made of thousands of small ones, and to put those of a whole page into one at
 * the end takes long. To read it as a number does.
 */
function inOne(part: unknown): unknown {
  if (typeof part === 'string') Number(part);
  return part;
}
