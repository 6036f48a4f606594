import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { acceptedLanguage, inLanguage } from '../../../server/web/language.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { texts } from '../../../views/texts/index.ts';
import { dateWords, figure, lengthText, money, whenText } from '../../../views/words/wording.ts';
import { type FakeApp, fakeApp } from '../../support/fake-app.ts';
import { FAKE_NOW } from '../../support/fake-forecast.ts';

describe('the language of a reader', () => {
  it.each([
    ['de', 'de'],
    ['de-AT', 'de'],
    ['DE-ch;q=0.9', 'de'],
    ['en-US,en;q=0.9', 'en'],
    ['fr-FR, fr;q=0.9, de;q=0.4, en;q=0.3', 'de'],
    ['en;q=0.5, de;q=0.8', 'de'],
    ['de;q=0.5, en;q=0.5', 'de'],
    ['en, de', 'en'],
    ['de;q=0, en;q=0.1', 'en'],
    ['de-CH;q=0, de', 'de'],
    ['en;q=0, *', 'de'],
    ['*', 'en'],
    ['fr, is', 'en'],
    ['', 'en'],
    ['de;q=2', 'en'],
    ['de;q=much', 'en'],
    [';;,,=', 'en'],
  ])('is, where a browser would have “%s”, %s', (header, language) => {
    expect(acceptedLanguage(header)).toBe(language);
  });
});

describe('what is read in German', () => {
  const german = <T>(act: () => T): T => inLanguage('de', act);
  const clock = wallClock('Europe/Berlin');
  const instant = Date.UTC(2026, 10, 26, 13, 0) / 60_000;

  it('has its days, lengths of time and numbers as they are written there', () => {
    expect(german(() => whenText(clock, instant))).toBe('Do 26. Nov 14:00');
    expect(whenText(clock, instant)).toBe('Thu 26 Nov 14:00');
    expect(german(() => dateWords('2026-03-01'))).toBe('1.\u00a0Mär\u00a02026');
    expect(german(() => lengthText(1700))).toBe('1\u00a0Tag 4\u00a0h');
    expect(german(() => lengthText(3140))).toBe('2\u00a0Tage 4\u00a0h');
    expect(german(() => figure(1234.5))).toBe('1\u202f234,5');
    expect(german(() => money(12.5, 'EUR'))).toBe('12,50 EUR');
    expect(money(12.5, 'EUR')).toBe('12.50 EUR');
  });

  it('stays German over a wait, and beside what others read', async () => {
    const read = async (): Promise<string> => {
      await new Promise((resolve) => setImmediate(resolve));
      return texts.screens.dates;
    };
    expect(await Promise.all([german(read), read(), german(read)])).toEqual(['Termine', 'Dates', 'Termine']);
  });
});

describe('a page', () => {
  let fake: FakeApp;
  beforeAll(async () => {
    fake = await fakeApp();
  });
  afterAll(() => fake.close());
  const get = (url: string, headers: Record<string, string> = {}) => fake.app.inject({ url, headers });
  const GERMAN = { 'accept-language': 'de-DE,de;q=0.9,en;q=0.5' };

  it('says its language, and that it depends on what the browser asks for', async () => {
    const page = await get('/b/tide-wall', GERMAN);
    expect(page.body).toContain('<html lang="de">');
    expect(page.headers.vary).toContain('accept-language');
    expect((await get('/b/tide-wall')).body).toContain('<html lang="en">');
  });

  it('is kept for readers of one language and never given to those of another', async () => {
    for (const path of ['', '/now', '/dates']) {
      const [german, english] = [await get(`/b/tide-wall${path}`, GERMAN), await get(`/b/tide-wall${path}`)];
      const [again, once] = [await get(`/b/tide-wall${path}`, GERMAN), await get(`/b/tide-wall${path}`)];
      expect(german.body).toContain('Termine');
      expect(english.body).not.toContain('Termine');
      expect([again.body, once.body]).toEqual([german.body, english.body]);
    }
  });

  it('is in the language that was picked on it, whatever the browser asks for', async () => {
    const picked = await fake.app.inject({
      method: 'POST',
      url: '/language',
      payload: { language: 'de', back: '/b/tide-wall/contents' },
    });
    expect(picked.headers.location).toBe('/b/tide-wall/contents');
    expect(picked.headers['set-cookie']).toMatch(/^language=de;.*HttpOnly/);
    expect((await get('/b/tide-wall', { cookie: 'language=de' })).body).toContain('<html lang="de">');
    const back = await get('/b/tide-wall', { ...GERMAN, cookie: 'language=en' });
    expect(back.body).toContain('<html lang="en">');
    expect((await get('/b/tide-wall', { cookie: 'language=xx' })).body).toContain('<html lang="en">');
    const none = await fake.app.inject({ method: 'POST', url: '/language', payload: { language: 'xx' } });
    expect([none.statusCode, none.headers['set-cookie']]).toEqual([303, undefined]);
  });

  it('offers each language by its own name, on the list of builds and on Contents', async () => {
    for (const url of ['/', '/b/tide-wall/contents']) {
      const { body } = await get(url, GERMAN);
      expect(body).toMatch(/<button[^>]*value="de"[^>]*lang="de"[^>]*aria-pressed="true"[^>]*>Deutsch/);
      expect(body).toMatch(/<button[^>]*value="en"[^>]*lang="en"[^>]*aria-pressed="false"[^>]*>English/);
    }
  });

  it('has its dates in the zone of the event and the words of the reader', async () => {
    const { body } = await get('/b/tide-wall/dates', GERMAN);
    expect(body).toMatch(/(Mo|Di|Mi|Do|Fr|Sa|So) \d{1,2}\. (Jan|Feb|Mär|Apr|Mai|Jun|Jul|Aug|Sep|Okt|Nov|Dez)/);
    expect(body).not.toMatch(/\b(Mon|Tue|Wed|Thu|Sun) \d/);
    expect(FAKE_NOW).toBeGreaterThan(0);
  });
});
