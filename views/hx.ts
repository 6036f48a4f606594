/** The htmx attributes we use, as functions, since attribute names with a hyphen go unchecked in TSX. */

type HxAttributes = Readonly<Record<string, string>>;

const SHEET = { 'hx-target': '#sheet', 'hx-push-url': 'true' } as const;
/** A form begins with the text it is given, never with what stood in another field before it. */
const ANEW = { ...SHEET, 'hx-swap': 'outerHTML' } as const;

/** A link whose answer is the sheet again, with a form open or closed. */
export function sheetLink(href: string): HxAttributes & { href: string } {
  return { href, 'hx-get': href, ...ANEW };
}

/**
 * A form whose answer is the sheet again, changed or with what was wrong. Without scripts it posts and is redirected.
 *
 *     sheetForm('/b/wall/undo').method // 'post'
 */
export function sheetForm(action: string): HxAttributes & { action: string; method: 'post' } {
  return { action, method: 'post', 'hx-post': action, ...ANEW };
}

/**
 * A sheet that fetches itself again whenever the build has changed; only what differs is touched: nothing jumps.
 */
export function livingSheet(href: string): HxAttributes {
  return { 'hx-get': href, 'hx-trigger': 'changed from:#live', 'hx-target': '#sheet', 'hx-swap': 'outerMorph' };
}

/** A line that fetches itself again whenever there is other work in the background, or more of it is done. */
export function workLine(href: string): HxAttributes {
  return { id: 'at-work', 'hx-get': href, 'hx-trigger': 'work from:#live', 'hx-swap': 'innerMorph' };
}

/** The form in that line, whose answer is the line again. */
export function workForm(action: string): HxAttributes & { action: string; method: 'post' } {
  return { action, method: 'post', 'hx-post': action, 'hx-target': '#at-work', 'hx-swap': 'innerMorph' };
}

/** The one stream of a page, on the element with the id `live`; the server only says that something has changed. */
export function changeStream(href: string): HxAttributes {
  return { id: 'live', 'hx-sse:connect': href, 'hx-swap': 'none' };
}

/** Every attribute name above; the tests compare rendered pages with it. */
export const HX_NAMES = ['hx-get', 'hx-post', 'hx-push-url', 'hx-target', 'hx-swap', 'hx-trigger', 'hx-sse:connect'];
