/** One question to the server, and what its silence or its refusal means for what is sent. */

/** What the server has answered. `refuses` and `trouble` carry the server's own words. */
export type Contact =
  | { readonly kind: 'not-yet' }
  | { readonly kind: 'fine'; readonly atMs: number }
  | { readonly kind: 'silent'; readonly sinceMs: number }
  | { readonly kind: 'shut-out' }
  | { readonly kind: 'trouble'; readonly words: string };

const ANSWER_WITHIN_MS = 12_000;

/** The server cannot be reached, or takes nothing from this phone now. */
export class NoContact extends Error {
  readonly contact: Contact;
  readonly retryMs: number | null;
  constructor(contact: Contact, retryMs: number | null = null) {
    super(contact.kind);
    this.contact = contact;
    this.retryMs = retryMs;
  }
}

/** The server refuses what was sent as it is. */
export class TooLarge extends Error {}

/** Gets, or posts where there is a body; throws `NoContact` or `TooLarge`. `heardMs`: when the server answered last. */
export async function ask<T>(path: string, heardMs: number, body?: unknown): Promise<T> {
  const giveUp = new AbortController();
  const clock = setTimeout(() => giveUp.abort(), ANSWER_WITHIN_MS);
  try {
    const response = await fetch(path, {
      signal: giveUp.signal,
      cache: 'no-cache',
      redirect: 'manual',
      headers: { accept: 'application/json', ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
      ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
    });
    if (response.ok) return (await response.json()) as T;
    throw await failure(response);
  } catch (error) {
    if (error instanceof NoContact || error instanceof TooLarge) throw error;
    throw new NoContact({ kind: 'silent', sinceMs: heardMs });
  } finally {
    clearTimeout(clock);
  }
}

async function failure(response: Response): Promise<Error> {
  const words = await response
    .json()
    .then((body: { problem?: unknown }) => (typeof body.problem === 'string' ? body.problem : null))
    .catch(() => null);
  if (response.status === 401 || response.status === 403) return new NoContact({ kind: 'shut-out' });
  if (response.status === 413 || response.status === 400) return new TooLarge(words ?? `answer ${response.status}`);
  const after = Number(response.headers.get('retry-after'));
  const retryMs = Number.isFinite(after) && after > 0 ? after * 1000 : null;
  return new NoContact({ kind: 'trouble', words: words ?? `answer ${response.status}` }, retryMs);
}
