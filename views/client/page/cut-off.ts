/** What every sheet needs of scripts: whether the page still hears of changes, and the fold that a link names. */

/** A page that no longer hears of changes says so: its numbers would be old without a word. */
const mark = document.getElementById('cut-off');
const show = (cutOff: boolean) => (): void => {
  if (mark !== null) mark.hidden = !cutOff;
};

document.addEventListener('htmx:sse:error', show(true));
document.addEventListener('htmx:sse:after:connection', show(false));
document.addEventListener('htmx:after:swap', show(false));
// A first stream that was refused is never tried again, so that only a new page hears of changes.
document.addEventListener('htmx:error', (event) => {
  if (event.target instanceof Element && event.target.id === 'live') show(true)();
});
addEventListener('offline', show(true));
// A stream may outlive a short break or die of it without a word: the sheet is fetched again.
addEventListener('online', () => document.getElementById('live')?.dispatchEvent(new Event('changed')));

/** A link to a folded line means what is under it. */
function unfold(): void {
  const named = location.hash === '' ? null : document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const fold = named?.querySelector<HTMLDetailsElement>(':scope > details');
  if (fold == null || named === null) return;
  fold.open = true;
  named.scrollIntoView();
}
addEventListener('hashchange', unfold);
unfold();

export {};
