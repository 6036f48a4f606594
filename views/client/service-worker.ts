/**
 * Opens the Count page with no server, from the copies of the last time there was one. Everything is asked of the server
 * first; a copy is given only when it does not answer. What is counted never passes through here: the page keeps it.
 */
{
  const CACHE = 'daywright-count-1';
  const ANSWER_WITHIN_MS = 4000;

  interface Extendable extends Event {
    waitUntil(work: Promise<unknown>): void;
  }
  interface Fetching extends Extendable {
    readonly request: Request;
    respondWith(answer: Promise<Response>): void;
  }
  interface Told extends Extendable {
    readonly data: unknown;
    readonly ports: readonly MessagePort[];
  }
  const worker = self as unknown as {
    addEventListener(type: string, listener: (event: never) => void): void;
    skipWaiting(): Promise<void>;
    readonly clients: { claim(): Promise<void> };
    readonly location: Location;
  };

  const isKept = (url: URL): boolean =>
    url.origin === worker.location.origin &&
    (url.pathname.startsWith('/assets/') || /^\/b\/[^/]+\/count(\.webmanifest)?$/.test(url.pathname));

  const within = (work: Promise<Response>): Promise<Response> =>
    new Promise((resolve, reject) => {
      setTimeout(() => reject(new Error('no answer in time')), ANSWER_WITHIN_MS);
      work.then(resolve, reject);
    });

  const copyOf = async (request: Request): Promise<Response | undefined> =>
    (await caches.open(CACHE)).match(request.url, { ignoreVary: true });

  const fromServer = async (request: Request): Promise<Response> => {
    const response = await fetch(request);
    if (response.ok && !response.redirected) await (await caches.open(CACHE)).put(request.url, response.clone());
    return response;
  };

  const answer = async (request: Request): Promise<Response> => {
    try {
      const response = await within(fromServer(request));
      return response.status >= 500 ? ((await copyOf(request)) ?? response) : response;
    } catch (error) {
      const copy = await copyOf(request);
      if (copy) return copy;
      throw error;
    }
  };

  /** True when every part now lies in the store, fetched anew or from before. */
  const keep = async (urls: readonly string[]): Promise<boolean> => {
    const wanted = urls.map((url) => new URL(url, worker.location.href)).filter(isKept);
    await Promise.all(wanted.map((url) => fromServer(new Request(url)).catch(() => undefined)));
    const copies = await Promise.all(wanted.map((url) => copyOf(new Request(url))));
    return copies.every((copy) => copy !== undefined);
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
    if (event.request.method === 'GET' && isKept(new URL(event.request.url))) event.respondWith(answer(event.request));
  });
}
