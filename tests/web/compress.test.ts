import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BUILD, type CountApp, countApp } from '../support/count-app.ts';

let bench: CountApp;
beforeAll(async () => {
  bench = await countApp();
});
afterAll(() => bench.close());

describe('what a page is made of', () => {
  it.each([`/b/${BUILD}/count`, `/b/${BUILD}/count/now`, '/assets/count.css', '/assets/mark.svg'])(
    'goes compressed to a browser that takes it, and says the same: %s',
    async (url) => {
      const plain = await get(url);
      const packed = await get(url, { 'accept-encoding': 'gzip, deflate, br' });
      expect([plain.headers['content-encoding'], packed.headers['content-encoding']]).toEqual([undefined, 'gzip']);
      expect(gunzipSync(packed.rawPayload).equals(plain.rawPayload)).toBe(true);
      expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length);
      for (const answer of [plain, packed]) expect(answer.headers.vary).toMatch(/accept-encoding/);
    },
  );

  it('goes as it is where gzip is refused, where it is compressed already, and where it is known', async () => {
    const asked = async (url: string, headers: Record<string, string>) =>
      (await get(url, { 'accept-encoding': 'gzip', ...headers })).headers['content-encoding'];
    expect(await asked('/assets/count.css', { 'accept-encoding': 'gzip;q=0, identity' })).toBeUndefined();
    expect(await asked('/assets/figures.woff2', {})).toBeUndefined();
    const { etag } = (await get('/assets/count.css')).headers;
    const known = await get('/assets/count.css', { 'accept-encoding': 'gzip', 'if-none-match': String(etag) });
    expect([known.statusCode, known.rawPayload.length]).toEqual([304, 0]);
    const part = await get('/assets/count.css', { 'accept-encoding': 'gzip', range: 'bytes=0-9' });
    expect([part.statusCode, part.rawPayload.length]).toEqual([206, 10]);
  });
});

function get(url: string, headers: Record<string, string> = {}) {
  return bench.app.inject({ method: 'GET', url, headers: { cookie: bench.makerCookie(), ...headers } });
}
