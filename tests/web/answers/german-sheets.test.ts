/** Every sheet in German: no text of ours is left in English on it. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { inLanguage } from '../../../server/web/language.ts';
import { BUILD, type CountApp, countApp } from '../../support/count-app.ts';
import { SHEETS } from '../../support/sheets.ts';

const TEXTS = join(import.meta.dirname, '../../../views/texts');

let bench: CountApp;
let leftOver: (page: string) => string[];

beforeAll(async () => {
  bench = await countApp();
  const files = readdirSync(TEXTS, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));
  const tables = await Promise.all(files.map((file) => import(join(TEXTS, file)) as Promise<object>));
  const said = (language: 'en' | 'de') => new Set(inLanguage(language, () => tables.flatMap(wordsIn)));
  const german = [...said('de')].join('\n');
  const english = [...said('en')].filter((words) => !german.includes(words));
  expect(english.length).toBeGreaterThan(1500);
  leftOver = (page) => english.filter((words) => page.includes(words));
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
  return body.replaceAll('&quot;', '"').replaceAll('&#39;', "'").replaceAll('&amp;', '&');
}

/** Shorter pieces, such as `of the`, are found in names that people gave. */
const SHORTEST = 10;

/** Two words at least of each text, and of each function what stands between the values that it puts in. */
function wordsIn(texts: unknown): string[] {
  if (typeof texts === 'string') return enough([texts]);
  if (typeof texts === 'function') return enough(piecesOf(String(texts)));
  if (typeof texts !== 'object' || texts === null) return [];
  return Object.values(texts).flatMap(wordsIn);
}

/** What a function says outright: its texts in quotes, and its templates between their values. */
function piecesOf(source: string): string[] {
  const quoted = [...source.matchAll(/'([^'\n]*)'|"([^"\n]*)"/g)].map(([, one, other]) => one ?? other ?? '');
  const templates = [...source.matchAll(/[`}]([^`${}]+)(?=\$\{|`)/g)].map(([, piece]) => piece!);
  return [...quoted, ...templates];
}

function enough(texts: readonly string[]): string[] {
  return texts
    .map((text) => text.trim())
    .filter((text) => text.length >= SHORTEST && /\p{L}{2,}[ \u00a0,]+\p{L}{2,}/u.test(text));
}
