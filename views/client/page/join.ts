/**
 * A secret comes in behind the # of a link, which browsers keep to themselves. It is put into the form and off the
 * address.
 */
import { countWaiting } from '../outbox/outbox-shelf.ts';

const field = document.querySelector<HTMLInputElement>('input[data-from-link]');
const secret = decodeURIComponent(location.hash.slice(1));
if (location.hash !== '') history.replaceState(null, '', location.pathname);
if (field !== null && secret !== '') {
  field.value = secret;
  const next = field.form?.querySelector<HTMLInputElement>('input[name="name"]');
  if (next) next.focus();
  else field.form?.requestSubmit();
}

// A phone that was shut out sees this page in the place of its count: it says that nothing is lost.
const waiting = await countWaiting().catch(() => 0);
const kept = document.getElementById('kept');
if (kept !== null && waiting > 0) {
  kept.textContent = kept.dataset.words!.replace('#', String(waiting));
  kept.hidden = false;
}
