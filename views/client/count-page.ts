/** Parts of the page that the server draws anew. */

/** Once for taps in a row: it spares the battery and the laptop. */
const FRAME_MS = 3000;
let coming: ReturnType<typeof setTimeout> | null = null;

/** Draws what stands around the tickets anew, in a moment. */
export function renewFrameSoon(): void {
  if (coming === null) coming = setTimeout(renewFrame, FRAME_MS);
}

/** The rule across the top and the title block, which hold nothing that is tapped. */
async function renewFrame(): Promise<void> {
  coming = null;
  const page = await fetchPage();
  for (const part of ['.rule', '.title-block']) {
    const [there, fresh] = [document.querySelector(part), page?.querySelector(part)];
    if (there && fresh) there.replaceWith(fresh);
  }
}

/** The page as the server draws it now, or null where it does not answer. */
export async function fetchPage(): Promise<Document | null> {
  try {
    const response = await fetch(location.pathname, { headers: { accept: 'text/html' }, redirect: 'manual' });
    return response.ok ? new DOMParser().parseFromString(await response.text(), 'text/html') : null;
  } catch {
    return null;
  }
}
