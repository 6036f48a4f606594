/** Whether the page can be opened with no server: a copy kept by the service worker, where the browser allows one. */

/** Registers it and hands it the page with all it is made of; true when a copy is kept. Over plain HTTP always false. */
export async function keepCopy(): Promise<boolean> {
  if (!('serviceWorker' in navigator) || !window.isSecureContext) return false;
  try {
    await navigator.serviceWorker.register('/assets/service-worker.js', { scope: '/' });
    const { active } = await navigator.serviceWorker.ready;
    const parts = performance.getEntriesByType('resource').map((entry) => entry.name);
    active?.postMessage({ keep: [location.pathname, ...new Set(parts)] });
    await navigator.storage?.persist?.().catch(() => false);
    return active !== null;
  } catch {
    return false;
  }
}
