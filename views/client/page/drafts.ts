/**
 * Keeps what is typed into a form until it is saved or closed: by the back button, a reload or another sheet nothing is
 * lost. The form is filled again where it is opened, and every sheet of the build says what is not saved yet.
 */
const STORE = 'daywright-unsaved ';

interface Draft {
  readonly title: string;
  readonly fields: readonly (readonly [string, string])[];
}

/** The page's body may be put in again by the back button: it is looked for each time. */
const place = (): HTMLElement | null => document.getElementById('unsaved');
/** Addresses of forms that were sent: where the answer has no such form any more, it was saved. */
const sent = new Set<string>();

function formOpen(): HTMLFormElement | null {
  return document.querySelector<HTMLFormElement>('form.edit');
}

function addressOf(form: HTMLFormElement): string {
  return new URL(form.action).pathname + new URL(form.action).search;
}

function fieldsOf(form: HTMLFormElement): [string, string][] {
  return [...new FormData(form)]
    .filter((one): one is [string, string] => typeof one[1] === 'string')
    .filter(([name]) => name !== 'do');
}

function keep(form: HTMLFormElement): void {
  const draft: Draft = { title: form.getAttribute('aria-label') ?? '', fields: fieldsOf(form) };
  sessionStorage.setItem(STORE + addressOf(form), JSON.stringify(draft));
  tell();
}

function drop(address: string): void {
  sessionStorage.removeItem(STORE + address);
  tell();
}

function draftAt(address: string): Draft | null {
  const text = sessionStorage.getItem(STORE + address);
  return text === null ? null : (JSON.parse(text) as Draft);
}

/**
 * Puts back what was typed, into the fields that there are; boxes are ticked as they were. The edit on which it was
 * begun comes back too, so that what somebody saved meanwhile is not overwritten without a word. Rows that were added,
 * moved or taken out are not the rows of this form any more: they stay as they are, since a name would mean another.
 */
function refill(form: HTMLFormElement): void {
  const draft = draftAt(addressOf(form));
  if (draft === null || form.dataset.refilled !== undefined) return;
  form.dataset.refilled = 'yes';
  const typed = new Map<string, string[]>();
  for (const [name, value] of draft.fields) typed.set(name, [...(typed.get(name) ?? []), value]);
  const others = otherRows(form, draft);
  for (const field of form.elements) {
    if (!isField(field) || others.has(listOf(field.name) ?? '')) continue;
    if (field.type === 'checkbox' || field.type === 'radio') {
      (field as HTMLInputElement).checked = typed.get(field.name)?.includes(field.value) ?? false;
    } else if (field.type !== 'hidden' || field.name === 'edit') {
      field.value = typed.get(field.name)?.shift() ?? field.value;
    }
  }
}

type Field = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

function isField(element: Element): element is Field {
  return element.matches('input, textarea, select');
}

/** The list whose row a field belongs to: `phases` of `phases.1.minutes`. */
function listOf(name: string): string | null {
  return /^([^.]+)\.\d+\./.exec(name)?.[1] ?? null;
}

/** The lists whose rows are not those of the draft, by number or by kind. */
function otherRows(form: HTMLFormElement, draft: Draft): Set<string> {
  const rows = (fields: Draft['fields']): Map<string, string> => {
    const all = new Map<string, string>();
    for (const [name, value] of fields) {
      const list = listOf(name);
      const row = name.endsWith('.kind') ? `${name}=${value}` : name;
      if (list !== null) all.set(list, `${all.get(list) ?? ''} ${row.replace(/\.(?!\d+\.|kind=).*$/, '')}`);
    }
    for (const [list, names] of all) all.set(list, [...new Set(names.split(' '))].sort().join(' '));
    return all;
  };
  const [mine, kept] = [rows(fieldsOf(form)), rows(draft.fields)];
  return new Set([...mine.keys(), ...kept.keys()].filter((list) => mine.get(list) !== kept.get(list)));
}

/** Names the forms of this build that hold something unsaved and are not open here. */
function tell(): void {
  const mark = place();
  if (mark === null) return;
  const open = formOpen();
  const links = Object.keys(sessionStorage)
    .filter((key) => key.startsWith(`${STORE}/b/${mark.dataset.build}/`))
    .map((key) => key.slice(STORE.length))
    .filter((address) => open === null || addressOf(open) !== address)
    .map((address) => {
      const link = document.createElement('a');
      link.href = address;
      link.textContent = draftAt(address)?.title || address;
      link.dir = 'auto';
      return link;
    });
  mark.hidden = links.length === 0;
  mark.replaceChildren(`${mark.dataset.words} `, ...links.flatMap((link, at) => (at === 0 ? [link] : [', ', link])));
}

function look(): void {
  const form = formOpen();
  for (const address of sent) {
    if (form === null || addressOf(form) !== address) drop(address);
    else {
      // The answer to what was sent holds all that was typed, each row in its new place.
      form.dataset.refilled = 'yes';
      keep(form);
    }
  }
  sent.clear();
  if (form !== null) refill(form);
  tell();
}

document.addEventListener('input', ({ target }) => {
  const form = target instanceof Element ? target.closest<HTMLFormElement>('form.edit') : null;
  if (form !== null) keep(form);
});
document.addEventListener(
  'submit',
  ({ target }) => {
    if (target instanceof HTMLFormElement && target.matches('form.edit')) sent.add(addressOf(target));
  },
  true,
);
// Closing a form is said to be a throwing away; a link to elsewhere is not.
document.addEventListener(
  'click',
  ({ target }) => {
    const close = target instanceof Element ? target.closest('form.edit a.button') : null;
    if (close !== null) drop(addressOf(close.closest('form')!));
  },
  true,
);
document.addEventListener('htmx:after:swap', look);
document.addEventListener('htmx:after:settle', look);
addEventListener('pageshow', look);
// Whoever leaves the moment that a form has gone has saved it none the less.
addEventListener('pagehide', look);

export {};
