import { afterAll, beforeAll, expect, it } from 'vitest';
import { BUILD, type CountApp, countApp } from '../support/count-app.ts';
import { SHEETS } from '../support/sheets.ts';

let bench: CountApp;
/** Each sheet as it was sent, by its path. */
const sent = new Map<string, string>();

beforeAll(async () => {
  bench = await countApp();
  const cookie = bench.makerCookie();
  for (const path of SHEETS) {
    const { statusCode, body } = await bench.app.inject({ url: pathOf(path), headers: { cookie } });
    expect(statusCode).toBe(200);
    sent.set(pathOf(path), body.replaceAll('&amp;', '&'));
  }
});
afterAll(() => bench.close());

const pathOf = (sheet: string) => `/b/${BUILD}${sheet}`;
const all = (html: string, found: RegExp): string[] => [...html.matchAll(found)].map(([, one]) => one!);

const idsOf = (html: string) => new Set(all(html, /\sid="([^"]+)"/g));

it.each(SHEETS)('%s/ has everything that it links to on itself, and no way to itself', (sheet) => {
  const own = pathOf(sheet);
  const html = sent.get(own)!;
  const ids = idsOf(html);
  const anchors = all(html, /<a [^>]*href="([^"]*#[^"]+)"/g).map((href) => href.split('#') as [string, string]);
  const dead = anchors.filter(([page, id]) => (page === '' || page === own) && !ids.has(decodeURIComponent(id)));
  expect(dead.map(([, id]) => id)).toEqual([]);
  expect(all(html, /(<a class="day-link"[^>]*>)/g).filter((link) => link.includes(`href="${own}"`))).toEqual([]);
});

it('the sheets have everything that the others link to on them', () => {
  const ids = new Map([...sent].map(([path, html]) => [path, idsOf(html)]));
  const links = new Set([...sent.values()].flatMap((html) => all(html, /<a [^>]*href="(\/[^"?]*#[^"]+)"/g)));
  const known = [...links].map((href) => href.split('#') as [string, string]).filter(([at]) => ids.has(at));
  expect(known.length).toBeGreaterThan(10);
  expect(known.filter(([at, id]) => !ids.get(at)!.has(decodeURIComponent(id))).map((link) => link.join('#'))).toEqual(
    [],
  );
});
