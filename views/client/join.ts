/** A secret comes in behind the # of a link, which browsers keep to themselves. It is put into the form and off the address. */

const field = document.querySelector<HTMLInputElement>('input[data-from-link]');
const secret = decodeURIComponent(location.hash.slice(1));
if (location.hash !== '') history.replaceState(null, '', location.pathname);
if (field !== null && secret !== '') {
  field.value = secret;
  const next = field.form?.querySelector<HTMLInputElement>('input[name="name"]');
  if (next) next.focus();
  else field.form?.requestSubmit();
}
