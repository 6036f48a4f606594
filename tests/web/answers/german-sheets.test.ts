/** Every sheet in German: no text of ours is left in English on it. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { BUILD, type CountApp, countApp } from '../../support/count-app.ts';
import { SHEETS } from '../../support/sheets.ts';
import { englishLeft } from './english-left.ts';

let bench: CountApp;
let leftOver: (page: string) => string[];

beforeAll(async () => {
  bench = await countApp();
  const english = await englishLeft();
  expect(english.pieces).toBeGreaterThan(1900);
  leftOver = english.in;
});
afterAll(() => bench.close());

it('finds what is left in English', async () => {
  const page = await sheetIn('en', '');
  expect(leftOver(page).length).toBeGreaterThan(20);
});

it.each(SHEETS)('%s/ has no English of ours in German', async (sheet) => {
  const page = await sheetIn('de', sheet);
  expect(leftOver(named.reduce((left, words) => left.replaceAll(words, ''), page))).toEqual([]);
});

/** What is English on every sheet: the name of a step here. */
const named = ['an order of 50'];

async function sheetIn(language: string, sheet: string): Promise<string> {
  const cookie = `${bench.makerCookie()}; language=${language}`;
  const { statusCode, body } = await bench.app.inject({ url: `/b/${BUILD}${sheet}`, headers: { cookie } });
  expect(statusCode).toBe(200);
  return body;
}
