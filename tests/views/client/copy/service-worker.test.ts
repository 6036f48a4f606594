/** The keeper of copies, run over a store of copies in memory: what it takes for a page, and what it does not. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';

type Listener = (event: unknown) => void;

let listeners: Map<string, Listener>;
let sets: Map<string, Map<string, unknown>>;
let status: number;

beforeEach(async () => {
  listeners = new Map();
  sets = new Map();
  status = 200;
  const setOf = (name: string) => {
    const set = sets.get(name) ?? new Map<string, unknown>();
    sets.set(name, set);
    return {
      put: async (url: string, response: unknown) => void set.set(url, response),
      match: async (url: string) => set.get(url),
    };
  };
  vi.stubGlobal('self', {
    addEventListener: (type: string, listener: Listener) => listeners.set(type, listener),
    location: new URL('https://laptop.local/assets/service-worker.js'),
  });
  vi.stubGlobal('caches', {
    keys: async () => [...sets.keys()],
    open: async (name: string) => setOf(name),
    delete: async (name: string) => sets.delete(name),
  });
  vi.stubGlobal('fetch', async () => new Response('a page', { status }));
  vi.resetModules();
  await import('../../../../views/client/copy/service-worker.ts');
});
afterEach(() => vi.unstubAllGlobals());

/** Whether a page and its styles were kept, as the page hears it. */
function keep(): Promise<boolean> {
  return new Promise((resolve) => {
    const port = { postMessage: ({ kept }: { kept: boolean }) => resolve(kept) };
    const data = { keep: ['https://laptop.local/b/wall/show', 'https://laptop.local/assets/base.css'] };
    listeners.get('message')!({ data, ports: [port], waitUntil: () => undefined });
  });
}

it('keeps a page whole, and no page that says that the plan is still being worked out in its place', async () => {
  expect(await keep()).toBe(true);
  const [kept] = sets.keys();
  status = 202;
  expect(await keep()).toBe(true);
  expect([...sets.keys()]).toEqual([kept]);
  sets.clear();
  expect(await keep()).toBe(false);
  expect(sets.size).toBe(0);
});
