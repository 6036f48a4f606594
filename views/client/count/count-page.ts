/** Parts of the page that the server draws again. */

/** Once for taps in a row: it spares the battery and the laptop. */
const FRAME_MS = 3000;
let coming: ReturnType<typeof setTimeout> | null = null;

/** Draws what is around the tickets again, in a moment. */
export function renewFrameSoon(): void {
  if (coming === null) coming = setTimeout(renewFrame, FRAME_MS);
}

/** The rule across the top and the title block, which hold nothing that is tapped. */
async function renewFrame(): Promise<void> {
  coming = null;
  const page = await fetchPage('/frame');
  for (const part of ['.rule', '.title-block']) {
    const [there, fresh] = [document.querySelector(part), page?.querySelector(part)];
    if (there && fresh) there.replaceWith(fresh);
  }
}

/** The page, or a part of it, as the server draws it now, or null where it does not answer. */
export async function fetchPage(part = ''): Promise<Document | null> {
  try {
    const response = await fetch(`${location.pathname}${part}`, {
      headers: { accept: 'text/html' },
      redirect: 'manual',
    });
    return response.ok ? new DOMParser().parseFromString(await response.text(), 'text/html') : null;
  } catch {
    return null;
  }
}

/**
 * Puts new tickets in the place of the old; the one that was open stays so, filled by `fill`, and so does each set that
 * was chosen.
 */
export function replaceTickets(sheet: Element, fresh: Element, fill: (ticket: Element) => void): void {
  const open = sheet.querySelector<HTMLElement>('.ticket[open]')?.dataset.step;
  const chosen = [...sheet.querySelectorAll<HTMLInputElement>('.sets input:checked')].map(({ name, value }) => [
    name,
    value,
  ]);
  sheet.replaceChildren(...fresh.childNodes);
  const find = <T extends Element>(selector: string): T | null => sheet.querySelector<T>(selector);
  const opened = open === undefined ? null : find(`.ticket[data-step="${CSS.escape(open)}"]`);
  opened?.setAttribute('open', '');
  if (opened !== null) fill(opened);
  for (const [name, value] of chosen) {
    const choice = find<HTMLInputElement>(`.sets input[name="${CSS.escape(name!)}"][value="${CSS.escape(value!)}"]`);
    if (choice !== null) choice.checked = true;
  }
}
