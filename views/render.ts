/** The only file that knows which renderer we use. */
import type { VNode } from 'preact';
import { render } from 'preact-render-to-string';

export type Html = VNode;

/** A whole page, with its doctype. Text and attributes are escaped. */
export function renderPage(page: Html): string {
  return `<!doctype html>${render(page)}`;
}

/** A fragment of a page, as swapped in by htmx. */
export function renderFragment(fragment: Html): string {
  return render(fragment);
}
