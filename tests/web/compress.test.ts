import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { STYLES } from '../../views/frame/styles.ts';
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

describe('the style sheets', () => {
  const linked = async (url: string) =>
    [...(await get(url)).payload.matchAll(/<link rel="stylesheet" href="([^"]+)"/g)].map((match) => match[1]);

  it('are one for all sheets, and one for the pages that weigh little beside their own', async () => {
    expect(await linked(`/b/${BUILD}`)).toEqual(['/assets/sheet.css']);
    expect(await linked(`/b/${BUILD}/count`)).toEqual(['/assets/bare.css', '/assets/count.css']);
  });

  it.each(Object.entries(STYLES))(
    'are put together whole and in order in %s, and asked for again only if changed',
    async (name, parts) => {
      const answer = await get(`/assets/${name}`);
      const texts = parts.map((part) => readFileSync(files.find((file) => basename(file) === part)!, 'utf8'));
      expect(answer.payload).toBe(texts.join('\n'));
      expect(answer.headers).toMatchObject({
        'content-type': expect.stringMatching(/^text\/css/),
        'cache-control': 'no-cache',
      });
      const known = await get(`/assets/${name}`, { 'if-none-match': String(answer.headers.etag) });
      expect([known.statusCode, known.rawPayload.length]).toEqual([304, 0]);
    },
  );

  it('leave out none that there is', () => {
    const own = ['count.css', 'join.css'];
    expect(files.map((file) => basename(file)).sort()).toEqual([...STYLES['sheet.css'], ...own].sort());
  });
});

const files = readdirSync('views/client/styles', { withFileTypes: true, recursive: true })
  .filter((entry) => entry.isFile())
  .map((entry) => join(entry.parentPath, entry.name));

function get(url: string, headers: Record<string, string> = {}) {
  return bench.app.inject({ method: 'GET', url, headers: { cookie: bench.makerCookie(), ...headers } });
}
