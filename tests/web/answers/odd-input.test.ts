/**
 * Zones and hours that there are not, and names with quotes, line breaks, letters from right to left, emoji and what
 * looks like markup or a formula: these are shown as they are on every sheet, and come back the same from a file, a
 * table or a calendar.
 */
import ICAL from 'ical.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Build, checkBuildFile } from '../../../server/model/index.ts';
import { createStore, openDatabase } from '../../../server/store/index.ts';
import { calendarFile } from '../../../server/web/calendar-file.ts';
import { readTable } from '../../../server/web/edits/csv-cells.ts';
import { isLogHeading, readLog } from '../../../server/web/edits/csv-log.ts';
import { isThingHeading, readThings } from '../../../server/web/edits/csv-things.ts';
import { isolateRuns } from '../../../views/isolate.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';
import { SHEETS } from '../../support/sheets.ts';

const NAMES = {
  build: 'The "long" ‘night’ <b>&amp;</b>',
  part: '=1+1; "rib", \'left\'',
  step: 'גזירה, صقل \u202E\u2066 and back',
  second: 'glue\nin two lines <script>x</script>',
  person: 'Zoë 👩‍🔧 O’Neil',
} as const;

const base = lantern();
const BUILD: Build = {
  ...base,
  name: NAMES.build,
  parts: base.parts!.map((part) => ({ ...part, name: NAMES.part })),
  steps: base.steps.map((step, i) => ({ ...step, name: i === 0 ? NAMES.step : NAMES.second })),
  people: base.people!.map((person) => ({ ...person, name: NAMES.person })),
};

let real: RealApp;
beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), NOON);
  const made = await real.planner.create(BUILD, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  const at = new Date((NOON - 60) * 60_000).toISOString();
  real.planner.append(
    BUILD.id,
    [{ id: 'odd-entry-1', kind: 'done', step: 'cut', n: 3, at, note: NAMES.second }],
    'maker',
  );
  await real.planner.settled();
});
afterAll(() => real.close());

const get = async (path: string) => (await real.app.inject({ url: `/b/${BUILD.id}${path}` })).body;

describe('odd names', () => {
  it('are text on every sheet, never markup', async () => {
    const own = SHEETS.filter((path) => !/keys|dates\/|steps\/|around=/.test(path));
    const pages = await Promise.all(own.map(get));
    for (const [i, html] of pages.entries()) {
      expect([own[i], /<b>&amp;amp;|<script>x/.test(html)]).toEqual([own[i], false]);
      expect([own[i], html.includes('&lt;b>&amp;amp;&lt;/b>')]).toEqual([own[i], true]);
    }
    expect(pages.some((html) => html.includes(isolateRuns(NAMES.step)))).toBe(true);
    expect(pages.some((html) => html.includes(NAMES.person))).toBe(true);
  });

  it('come back from the build file', async () => {
    const file = checkBuildFile(JSON.parse(await get('/file.json')));
    expect(file.ok && file.value.build).toEqual(BUILD);
  });

  it('come back from the tables, with a byte-order mark before them or without', async () => {
    for (const mark of ['', '\uFEFF']) {
      for (const separator of ['comma', 'semicolon']) {
        const text = `${mark}${(await get(`/tables/parts.csv?separator=${separator}`)).replace(/^\uFEFF/, '')}`;
        expect(text).toContain("'=1+1");
        const table = await readTable(text, isThingHeading('parts'), 2000);
        if (!table.ok) throw new Error(table.problems[0]!.message);
        expect(await readThings(BUILD, 'parts', table.value)).toMatchObject({ changes: [], problems: [], ignored: [] });
      }
      const log = await readTable(
        `${mark}${(await get('/tables/log.csv')).replace(/^\uFEFF/, '')}`,
        isLogHeading,
        2000,
      );
      if (!log.ok) throw new Error(log.problems[0]!.message);
      const read = await readLog(BUILD, log.value, () => undefined);
      expect([read.problems, read.added.map(({ entry }) => entry.note)]).toEqual([[], [NAMES.second]]);
    }
  });

  it('come back from the calendar', () => {
    const { forecast } = real.planner.latest(BUILD.id)!;
    const text = calendarFile(BUILD, forecast, { person: null, alarmMinutes: null });
    const summaries = new ICAL.Component(ICAL.parse(text))
      .getAllSubcomponents('vevent')
      .map((one) => String(new ICAL.Event(one).summary));
    expect(summaries.some((summary) => summary.includes(NAMES.person))).toBe(true);
    const lines = text.split('\r\n').slice(0, -1);
    expect(lines.filter((line) => !/^([A-Z-]+[:;]| )/.test(line))).toEqual([]);
  });
});

describe('a build that is begun', () => {
  const begin = (zone: string, event: string) =>
    real.app.inject({
      method: 'POST',
      url: '/builds',
      headers: { 'content-type': 'application/x-www-form-urlencoded', accept: 'text/html' },
      payload: new URLSearchParams({ name: 'Odd Night', zone, event }).toString(),
    });

  it.each([
    ['in a zone that there is not', 'Europe/Atlantis', '2026-12-20T18:00', /Europe\/Atlantis/],
    ['at an hour that the change of the clocks leaves out', 'Europe/Berlin', '2027-03-28T02:30', /02:00 to 03:00/],
  ])('%s is refused in a sentence, and what was typed stays', async (_how, zone, event, sentence) => {
    const before = real.planner.builds().length;
    const answer = await begin(zone, event);
    expect([answer.statusCode, answer.body]).toEqual([422, expect.stringMatching(sentence)]);
    expect(answer.body).toContain(`value="${event}"`);
    expect(real.planner.builds()).toHaveLength(before);
  });

  it('at an hour that comes twice that night is at the first of the two, in its calendar too', async () => {
    expect((await begin('Europe/Berlin', '2027-10-31T02:30')).statusCode).toBe(303);
    const forecast = (await real.planner.snapshot('odd-night'))!.forecast;
    // Berlin turns back from 03:00 to 02:00 at 01:00Z (IANA data 2025b).
    expect(forecast.event).toBe(Date.parse('2027-10-31T00:30Z') / 60_000);
    const { build } = real.planner.build('odd-night')!;
    expect(calendarFile(build, forecast, { person: null, alarmMinutes: null })).toContain('DTSTART:20271031T003000Z');
  });
});
