/** The htmx attributes we use, as functions, since attribute names with a hyphen go unchecked in TSX. */

export type HxAttributes = Readonly<Record<string, string>>;

const SHEET = { 'hx-target': '#sheet', 'hx-swap': 'outerMorph' } as const;

/** A link whose answer is the sheet again: opening a form, turning a page of the day book. */
export function sheetLink(href: string): HxAttributes & { href: string } {
  return { href, 'hx-get': href, 'hx-push-url': 'true', ...SHEET };
}

/** A form whose answer is the sheet again, changed or with what was wrong. Without scripts it posts and is redirected. */
export function sheetForm(action: string): HxAttributes & { action: string; method: 'post' } {
  return { action, method: 'post', 'hx-post': action, 'hx-push-url': 'true', ...SHEET };
}

/** A sheet that fetches itself anew whenever the build has changed. */
export function livingSheet(href: string): HxAttributes {
  return { 'hx-get': href, 'hx-trigger': 'changed from:#live', ...SHEET };
}

/** The one stream of a page, on the element with the id `live`; the server only says that something has changed. */
export function changeStream(href: string): HxAttributes {
  return { id: 'live', 'hx-sse:connect': href, 'hx-swap': 'none' };
}

/** Every attribute name above; the tests compare rendered pages with it. */
export const HX_NAMES = ['hx-get', 'hx-post', 'hx-push-url', 'hx-target', 'hx-swap', 'hx-trigger', 'hx-sse:connect'];
