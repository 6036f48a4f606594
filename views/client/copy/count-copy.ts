/** Whether the page can be opened with no server: a copy kept by the service worker, where the browser allows one. */

/**
 * Registers it and hands it the page with all it is made of; true when a copy is kept. Over plain HTTP always false.
 */
export async function keepCopy(): Promise<boolean> {
  if (!mayKeepCopy()) return false;
  try {
    await navigator.serviceWorker.register('/assets/service-worker.js', { scope: '/' });
    const { active } = await navigator.serviceWorker.ready;
    const parts = performance.getEntriesByType('resource').map((entry) => entry.name);
    if (active === null || !(await askToKeep(active, [location.pathname, ...new Set(parts)]))) return false;
    await navigator.storage?.persist?.().catch(() => false);
    return true;
  } catch {
    return false;
  }
}

/** Whether this browser, in this place, allows a copy at all. */
export function mayKeepCopy(): boolean {
  return 'serviceWorker' in navigator && window.isSecureContext;
}

const KEPT_WITHIN_MS = 60_000;

/** The worker answers once every part is in its store: only then may the page say that it opens without a network. */
function askToKeep(worker: ServiceWorker, parts: readonly string[]): Promise<boolean> {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    const giveUp = setTimeout(() => resolve(false), KEPT_WITHIN_MS);
    port1.onmessage = ({ data }: MessageEvent<{ kept?: unknown }>) => {
      clearTimeout(giveUp);
      port1.close();
      resolve(data.kept === true);
    };
    worker.postMessage({ keep: parts }, [port2]);
  });
}
