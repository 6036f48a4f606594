/** What is printed: one page a day, with every step of the day on it and nothing cut, on A4 and on Letter. */
import { inflateSync } from 'node:zlib';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, openBrowser, openPage } from '../support/browser.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';

/** Millimetres and what is printed on of them, with margins of 12 mm, at 96 pixels an inch. */
const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4] } as const;
const pixels = (millimetres: number) => Math.floor(((millimetres - 24) / 25.4) * 96);

let browser: Browser;
let fake: FakeApp;
let url: string;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  browser = await openBrowser();
  fake = await fakeApp();
  url = `${await fake.app.listen({ port: 0, host: '127.0.0.1' })}/b/tide-wall`;
  context = await browser.newContext({ colorScheme: 'dark' });
  ({ page } = await openPage(context));
});
afterAll(async () => {
  await closePages(browser);
  await fake.close();
});

async function printed(path: string, format: keyof typeof PAPERS): Promise<number> {
  await page.goto(url + path);
  const pdf = (await page.pdf({ format, printBackground: true, preferCSSPageSize: false })).toString('latin1');
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: pixels(PAPERS[format][0]), height: pixels(PAPERS[format][1]) });
  return pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

/** Every letter that the text of a PDF stands for, as its fonts say; what no font has a sign for is none of them. */
function lettersIn(pdf: Buffer): Set<string> {
  const letters = new Set<string>();
  const bytes = pdf.toString('latin1');
  for (const { index, 0: head } of bytes.matchAll(/stream\r?\n/g)) {
    const from = index + head.length;
    const map = unpacked(pdf.subarray(from, bytes.indexOf('endstream', from)));
    for (const [, list] of map.matchAll(/beginbf(?:char|range)\n([\s\S]*?)endbf/g)) {
      for (const line of list!.trim().split('\n')) for (const letter of mappedBy(line)) letters.add(letter);
    }
  }
  return letters;
}

/** A line of a map from signs to text: `<sign> <text>` or `<first sign> <last sign> <text of the first>`. */
function mappedBy(line: string): string[] {
  const numbers = [...line.matchAll(/<([0-9A-Fa-f]+)>/g)].map(([, hex]) => hex!);
  const first = Buffer.from(numbers.at(-1)!, 'hex').swap16().toString('utf16le');
  const more = numbers.length < 3 ? 0 : Number.parseInt(numbers[1]!, 16) - Number.parseInt(numbers[0]!, 16);
  return Array.from({ length: more + 1 }, (_, i) => String.fromCodePoint(first.codePointAt(0)! + i));
}

function unpacked(stream: Buffer): string {
  try {
    return inflateSync(stream).toString('latin1');
  } catch {
    return '';
  }
}

/** Whether the browser has a sign for a letter, other than the one that stands for all that it has none for. */
function isDrawn(letter: string): boolean {
  const draw = (text: string): string => {
    const canvas = document.createElement('canvas');
    const pen = canvas.getContext('2d')!;
    pen.font = `40px ${getComputedStyle(document.body).fontFamily}`;
    pen.fillText(text, 10, 60);
    return canvas.toDataURL();
  };
  return draw(letter) !== draw('\u{effff}');
}

/** Those of these letters that our lettering has, whatever stands behind it. */
async function isOwn(letters: string): Promise<string> {
  await Promise.all(
    ['400', '600'].map((weight) =>
      document.fonts.load(`${weight} 40px "Barlow Semi Condensed", "Roboto Condensed"`, letters),
    ),
  );
  const draw = (letter: string, family: string): string => {
    const canvas = document.createElement('canvas');
    const pen = canvas.getContext('2d')!;
    pen.font = `40px ${family}`;
    pen.fillText(letter, 10, 60);
    return canvas.toDataURL();
  };
  const own = (letter: string) =>
    draw(letter, '"Barlow Semi Condensed", "Roboto Condensed", serif') !== draw(letter, 'serif');
  return [...letters].filter(own).join('');
}

/** What is wider than the page, or hidden by a box that is smaller. Runs in the page. */
function cutOff(): string[] {
  const wide = document.documentElement.clientWidth;
  return [...document.querySelectorAll('#sheet *')]
    .filter((it) => {
      const box = it.getBoundingClientRect();
      const isHeard = it.closest('.heard, svg, nav') !== null;
      const hides = getComputedStyle(it).overflowX !== 'visible' && it.scrollWidth > it.clientWidth + 1;
      return box.width > 0 && !isHeard && (box.right > wide + 1 || hides);
    })
    .map((it) => `${it.tagName} ${it.className}: ${it.textContent?.slice(0, 60)}`);
}

describe('the PDF that the browser makes', () => {
  const NAMES = 'Größe Łódź Ørsted Καλημέρα Привет Їжак';
  const OTHERS = ['日', '本', '語', '한', 'ע', 'ش'];

  it('has its fonts inside, and a letter for every one of a name that the machine has a font for', async () => {
    const change = { kind: 'set', list: 'build', field: 'name', value: `${NAMES} ${OTHERS.join('')}` } as const;
    const before = fake.planner.build('tide-wall')!.build.name;
    expect(await fake.planner.edit('tide-wall', [change], 'maker')).toMatchObject({ ok: true });
    await fake.planner.settled();
    await page.goto(`${url}/paper`);
    const pdf = await page.pdf({ format: 'A4' });
    const bytes = pdf.toString('latin1');
    const fonts = bytes.match(/\/Type\s*\/FontDescriptor\b/g) ?? [];
    const inside = bytes.match(/\/FontFile[23]?\b/g) ?? [];
    // A font of type 3 has its signs drawn in the file itself.
    const drawn = bytes.match(/\/Subtype\s*\/Type3\b/g) ?? [];
    expect(fonts.length).toBeGreaterThan(0);
    expect(inside.length).toBeGreaterThan(0);
    expect(inside.length + drawn.length).toBeGreaterThanOrEqual(fonts.length);
    // European languages, Vietnamese, Cyrillic and Greek, one letter of old Greek among them, are in our own lettering.
    expect(await page.evaluate(isOwn, 'ŁŹžğőșāẻΩήὍЖїҚ')).toBe('ŁŹžğőșāẻΩήὍЖїҚ');
    const letters = lettersIn(pdf);
    const known = await Promise.all(OTHERS.map((letter) => page.evaluate(isDrawn, letter)));
    // A letter that a font has not is put together of its base and its accent.
    const isThere = (letter: string) =>
      letters.has(letter) || [...letter.normalize('NFD')].every((it) => letters.has(it));
    expect([...NAMES.replaceAll(' ', '')].filter((letter) => !isThere(letter))).toEqual([]);
    expect(OTHERS.map((letter) => letters.has(letter))).toEqual(known);
    await fake.planner.edit('tide-wall', [{ ...change, value: before }], 'maker');
    await fake.planner.settled();
  });
});

describe.each(Object.keys(PAPERS) as (keyof typeof PAPERS)[])('on %s', (format) => {
  it('the whole plan gives each day a page of its own, with all its steps and nothing cut', async () => {
    const pages = await printed('/paper', format);
    const height = pixels(PAPERS[format][1]);
    const days = page.locator('.day-paper');
    const heights = await days.evaluateAll((all) => all.map((it) => it.getBoundingClientRect().height));
    expect(heights.length).toBeGreaterThan(5);
    expect(Math.max(...heights)).toBeLessThan(height);
    expect(pages).toBeGreaterThan(heights.length);
    expect(pages).toBeLessThanOrEqual(heights.length + 3);
    expect(await page.evaluate(cutOff)).toEqual([]);
    for (const day of fake.planner.latest('tide-wall')!.forecast.days) {
      const steps = day.people.flatMap(({ spells }) => spells.map(({ step }) => step));
      if (steps.length === 0) continue;
      const text = await days
        .filter({ hasText: new RegExp(`\\b${Number(day.date.slice(-2))}\\b`) })
        .first()
        .textContent();
      const names = fake.planner.latest('tide-wall')!.forecast.steps;
      for (const step of steps) expect(text).toContain(names.find(({ id }) => id === step)!.name);
    }
  });

  it('a day’s sheet is one page in black on white, for one person without the work of others', async () => {
    expect(await printed('/dates/2026-11-26', format)).toBe(1);
    expect(await page.evaluate(cutOff)).toEqual([]);
    expect(await page.evaluate(() => getComputedStyle(document.body).color)).toBe('rgb(0, 0, 0)');
    const all = await page.locator('.day-work').textContent();
    expect(await printed('/dates/2026-11-26?person=maker', format)).toBe(1);
    const own = await page.locator('.day-work').textContent();
    expect(own).toContain('Maker');
    expect(own).not.toContain('Helper');
    expect(own!.length).toBeLessThanOrEqual(all!.length);
  });

  it('Orders, Money and Show day fit the width', async () => {
    for (const path of ['/orders', '/money', '/show']) {
      await printed(path, format);
      expect(await page.evaluate(cutOff)).toEqual([]);
    }
  });
});
