/**
 * Opens the Count page and the Now sheet with no server, from the copies of the last time there was one. Everything is
 * asked of the server first; a copy is given only when it does not answer. What is counted never passes through here:
 * the page keeps it.
 *
 * Copies are kept by the page, all that it is made of together: a set that could not be fetched whole is thrown away,
 * and a page that was opened from a set gets everything from it, so that scripts of two versions never meet in one
 * page.
 */
{
  const NAME = 'daywright-count';
  /** Lies in a set that is whole. */
  const WHOLE = '/assets/whole';
  const ANSWER_WITHIN_MS = 4000;

  interface Extendable extends Event {
    waitUntil(work: Promise<unknown>): void;
  }
  interface Fetching extends Extendable {
    readonly request: Request;
    readonly clientId: string;
    readonly resultingClientId: string;
    respondWith(answer: Promise<Response>): void;
  }
  interface Told extends Extendable {
    readonly data: unknown;
    readonly ports: readonly MessagePort[];
  }
  const worker = self as unknown as {
    addEventListener(type: string, listener: (event: never) => void): void;
    skipWaiting(): Promise<void>;
    readonly clients: { claim(): Promise<void>; get(id: string): Promise<{ readonly url: string } | undefined> };
    readonly location: Location;
  };
  /** Pages that were opened from their set. */
  const fromSet = new Set<string>();

  const isPage = (url: URL): boolean => /^\/b\/[^/]+\/(count|now|show)$/.test(url.pathname);
  const isKept = (url: URL): boolean =>
    url.origin === worker.location.origin &&
    (url.pathname.startsWith('/assets/') || /^\/b\/[^/]+\/(count(\.webmanifest)?|now|show)$/.test(url.pathname));

  const within = (work: Promise<Response>): Promise<Response> =>
    new Promise((resolve, reject) => {
      setTimeout(() => reject(new Error('no answer in time')), ANSWER_WITHIN_MS);
      work.then(resolve, reject);
    });

  /** The sets of a page, the newest first; of any page where it is not said. */
  const setsOf = async (page: string | null): Promise<string[]> => {
    const names = (await caches.keys()).filter((name) => name.startsWith(`${NAME}:${page === null ? '' : `${page}:`}`));
    return names.sort((a, b) => madeAt(b) - madeAt(a));
  };
  const madeAt = (name: string): number => Number(name.slice(name.lastIndexOf(':') + 1));

  const copyOf = async (url: string, page: string | null): Promise<Response | undefined> => {
    for (const name of await setsOf(page)) {
      const set = await caches.open(name);
      const copy = (await set.match(WHOLE)) && (await set.match(url, { ignoreVary: true }));
      if (copy) return copy;
    }
    return undefined;
  };

  const pageOf = async (clientId: string): Promise<string | null> => {
    const client = await worker.clients.get(clientId);
    const url = client === undefined ? null : new URL(client.url);
    return url !== null && isPage(url) ? url.pathname : null;
  };

  const answer = async ({ request, clientId, resultingClientId }: Fetching): Promise<Response> => {
    const isOpening = request.mode === 'navigate';
    const page = isOpening ? new URL(request.url).pathname : await pageOf(clientId);
    if (!isOpening && fromSet.has(clientId) && !isPage(new URL(request.url))) {
      const copy = await copyOf(request.url, page);
      if (copy) return copy;
    }
    const instead = async (): Promise<Response | undefined> => {
      const copy = await copyOf(request.url, page);
      if (copy && isOpening) fromSet.add(resultingClientId);
      return copy;
    };
    try {
      const response = await within(fetch(request));
      return response.status >= 500 ? ((await instead()) ?? response) : response;
    } catch (error) {
      const copy = await instead();
      if (copy) return copy;
      throw error;
    }
  };

  /** True when every part of a page now is in a set of its own; the sets before it are dropped then. */
  const keep = async (urls: readonly string[]): Promise<boolean> => {
    const wanted = urls.map((url) => new URL(url, worker.location.href)).filter(isKept);
    const page = wanted.find(isPage)?.pathname;
    if (page === undefined) return false;
    const before = await setsOf(page);
    const name = `${NAME}:${page}:${Math.max(Date.now(), ...before.map((one) => madeAt(one) + 1))}`;
    const set = await caches.open(name);
    try {
      await Promise.all(wanted.map(async (url) => set.put(url.href, await fetched(url))));
      await set.put(WHOLE, new Response());
    } catch {
      await caches.delete(name);
      return (await copyOf(wanted[0]!.href, page)) !== undefined;
    }
    await Promise.all(before.map((one) => caches.delete(one)));
    return true;
  };

  const fetched = async (url: URL): Promise<Response> => {
    const response = await fetch(new Request(url));
    // 202 is a page that says that the plan is being worked out, and fetches itself again and again.
    if (response.status !== 200 || response.redirected) throw new Error(`no copy of ${url.pathname}`);
    return response;
  };

  worker.addEventListener('install', (event: Extendable) => event.waitUntil(worker.skipWaiting()));
  worker.addEventListener('activate', (event: Extendable) => event.waitUntil(worker.clients.claim()));
  worker.addEventListener('message', (event: Told) => {
    const { keep: urls } = (event.data ?? {}) as { keep?: unknown };
    if (!Array.isArray(urls)) return;
    const kept = keep(urls.map(String)).catch(() => false);
    event.waitUntil(kept.then((all) => event.ports[0]?.postMessage({ kept: all })));
  });
  worker.addEventListener('fetch', (event: Fetching) => {
    const url = new URL(event.request.url);
    // A sheet that is fetched into an open page is a piece of it: a copy of the whole page is no answer.
    const isPiece = isPage(url) && event.request.mode !== 'navigate';
    if (event.request.method === 'GET' && isKept(url) && !isPiece) event.respondWith(answer(event));
  });
}
