/** The first page proposes the zone of the browser that asks, and says so: no clock is in the field unsaid. */
const field = document.querySelector<HTMLInputElement>('input[data-own-zone]');
const own = Intl.DateTimeFormat().resolvedOptions().timeZone;

if (field !== null && field.value === '') {
  field.value = own;
  const hint = field.nextElementSibling;
  if (hint !== null) hint.textContent = field.dataset.ownZone ?? '';
}

export {};
