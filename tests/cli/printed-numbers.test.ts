import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { demoFile } from '../../seed/demo.ts';
import { summaryOf } from '../../server/cli/summary.ts';
import { planBuild } from '../../server/engine/index.ts';
import type { Build, Forecast, LogEntry } from '../../server/model/index.ts';
import { wallClock } from '../../server/web/wall-clock.ts';
import * as wording from '../../views/words/wording.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { anyBuild, anyLog, entriesOf, NOW } from '../support/random-builds.ts';

/** A moment, a length, a share or a number, as it is printed. */
const PHRASE = new RegExp(
  [
    String.raw`(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d{1,2} [A-Z][a-z]{2}(?: \d{4})?(?: \d\d:\d\d)?`,
    String.raw`\d\d:\d\d`,
    String.raw`\d+(?:,\d{3})*(?:\.\d+)? (?:days?|d|h|min)(?: \d+ (?:h|min))*(?![a-z])`,
    String.raw`\d+(?:,\d{3})*(?:\.\d+)?(?: %)?`,
  ].join('|'),
  'g',
);

const phrasesIn = (text: string): string[] => plain(text).match(PHRASE) ?? [];

/** Phrases that are printed and that nothing in the JSON makes, in any of the house's wordings; each with its line. */
function strayIn(printed: string, forecast: Forecast): string[] {
  const json: unknown = JSON.parse(JSON.stringify(forecast));
  const known = new Set(FIXED);
  for (const phrase of [...valuesOf(json, forecast), ...errorsOf(forecast)]) known.add(phrase);
  return printed
    .split('\n')
    .flatMap((line) => phrasesIn(line).flatMap((phrase) => (known.has(phrase) ? [] : [`${phrase}: ${line.trim()}`])));
}

/** By how much a chance may mislead, which follows from the chance and its error. */
function errorsOf({ risk }: Forecast): string[] {
  if (risk === undefined || risk === null) return [];
  return phrasesIn(wording.errorText(risk.readyBy, risk.futures));
}

function* valuesOf(json: unknown, forecast: Forecast): Generator<string> {
  const clock = wallClock(forecast.build.zone);
  const seen = new Set<number>();
  for (const value of leavesOf(json)) {
    if (typeof value === 'string') yield* phrasesIn(value);
    else if (!seen.has(value)) {
      seen.add(value);
      yield* phrasesOf(value, clock, forecast.now);
    }
  }
}

function* phrasesOf(value: number, clock: ReturnType<typeof wallClock>, now: number): Generator<string> {
  const size = Math.abs(value);
  const { figure, percent, twoFigures, lengthText, exactText, hoursText, workText, roomText, chanceText } = wording;
  yield* phrasesIn(wording.money(size, ''));
  if (value > 25_000_000 && value < 50_000_000) {
    yield* phrasesIn(wording.whenText(clock, value, now));
    yield* phrasesIn(wording.dayText(clock, value, now));
    yield wording.whenText(clock, value, now).slice(-5);
    // How long ago it was.
    yield* phrasesIn(lengthText(Math.abs(now - value)));
    return;
  }
  const rounded = [size, Math.round(size), Math.floor(size), Math.ceil(size)];
  for (const one of rounded) {
    for (const text of [figure(one), figure(one, 1), figure(one, 0), twoFigures(one), String(one)]) {
      yield* [text, `${text} min`].flatMap(phrasesIn);
    }
    for (const text of [lengthText, exactText, hoursText, workText].map((say) => say(one))) yield* phrasesIn(text);
    yield* [roomText(one), roomText(-one)].flatMap(phrasesIn);
  }
  // A pace below one an hour is said as one in so long.
  if (size > 0 && size < 1) yield* phrasesIn(hoursText(60 / size));
  if (size <= 1) for (const share of [size, 1 - size]) yield* [percent(share), chanceText(share)].flatMap(phrasesIn);
}

/** The numbers that stand in the sentences themselves, such as `80 of 100` or a law's hours. */
const FIXED = new Set(
  ['views/texts', 'server/cli']
    .flatMap((folder) => readdirSync(folder).map((file) => `${folder}/${file}`))
    .filter((path) => path.endsWith('.ts'))
    .flatMap((path) => phrasesIn(readFileSync(path, 'utf8'))),
);

function leavesOf(value: unknown): (number | string)[] {
  if (typeof value === 'number' || typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  const own = Array.isArray(value) ? [value.length] : [];
  return [...own, ...Object.values(value).flatMap(leavesOf)];
}

function plain(text: string): string {
  return text.replace(/[\u00a0\u202f\u2009]/g, ' ');
}

const planned = (build: Build, log: readonly LogEntry[], now: number): Forecast =>
  planBuild(build, log, now, { levelling: { seed: 1, schedules: 3 }, risk: { seed: 1, futures: 40 } });

describe('every number that is printed is in the JSON', () => {
  test('for random builds with logs', () => {
    fc.assert(
      fc.property(anyBuild, anyLog, (build, told) => {
        const forecast = planned(build as unknown as Build, entriesOf(told), NOW);
        expect(strayIn(summaryOf(forecast), forecast)).toEqual([]);
      }),
      { numRuns: 40, seed: 11, endOnFailure: true },
    );
  }, 240_000);

  test('for the demo and for the Tide Wall on several days', () => {
    for (const [day, file] of [1, 4, 8].flatMap((one) => [[one, tideWall] as const, [one, demoFile] as const])) {
      const now = Date.UTC(2026, 11, day, 12) / 60_000;
      const { build, log = [] } = file(now);
      const forecast = planned(build, log, now);
      expect(strayIn(summaryOf(forecast), forecast)).toEqual([]);
    }
  }, 120_000);

  test('and the check finds those of another build', () => {
    const now = Date.UTC(2026, 11, 1, 12) / 60_000;
    const { build, log = [] } = tideWall(now);
    const [one, other] = [planned(build, log, now), planned(build, log, now + 3 * 1440 + 77)];
    expect(strayIn(summaryOf(one), other).length).toBeGreaterThan(10);
  }, 120_000);
});
