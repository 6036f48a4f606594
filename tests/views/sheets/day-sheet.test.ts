import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { DayWork } from '../../../views/paper/day-paper.tsx';
import { type Html, renderFragment } from '../../../views/render.ts';
import { CountdownSheet } from '../../../views/sheets/countdown.tsx';
import { DatesSheet } from '../../../views/sheets/dates.tsx';
import { DaySheetSheet } from '../../../views/sheets/day-sheet.tsx';
import { DesignSheet } from '../../../views/sheets/design.tsx';
import type { BuildPage } from '../../../views/types.ts';

const minutes = (instant: string): number => Date.parse(instant) / 60_000;
/** A Sunday afternoon. */
const NOW = minutes('2026-11-29T16:30Z');

const BUILD: Build = {
  id: 'gate',
  name: 'Gate',
  zone: 'UTC',
  start: '2026-11-20T08:00',
  event: '2026-12-09T18:00',
  parts: [
    { id: 'shell', name: 'Shell', source: 'send-out', count: 12, supplier: 'cutter' },
    { id: 'axle', name: 'Axle', source: 'buy', count: 12, packSize: 12, supplier: 'shop' },
    { id: 'motor', name: 'Motor', source: 'buy', count: 3, supplier: 'shop' },
  ],
  suppliers: [
    { id: 'cutter', name: 'Cutter', lead: 8 },
    { id: 'shop', name: 'Shop', lead: 1 },
  ],
  people: [{ id: 'me', name: 'Me', hours: 'daily 08:00-18:00' }],
  machines: [{ id: 'press', name: 'Press', unattended: true, overnight: true }],
  steps: [
    {
      id: 'wash',
      name: 'Wash',
      count: 4,
      lotSize: 4,
      phases: [{ kind: 'run', machine: 'press', minutes: 90, load: 5, unload: 5 }],
    },
    { id: 'fit', name: 'Fit', part: 'shell', uses: ['axle', 'motor'], phases: [{ kind: 'hands', perUnit: 60 }] },
  ],
  decisions: [{ id: 'colour', question: 'Which colour?', waits: ['order-shell', 'fit'] }],
} as Build;

function pageOf(changes: Partial<Build> = {}, log: readonly LogEntry[] = []): BuildPage {
  const build = { ...BUILD, ...changes };
  const forecast = planBuild(build, log, NOW, { levelling: { seed: 1, schedules: 1 } });
  return {
    build,
    revision: 1,
    forecast,
    entries: log.length,
    computedAt: NOW,
    stale: false,
    seen: '1',
    clock: wallClock(build.zone),
    light: null,
  };
}

function words(html: Html): string {
  return renderFragment(html)
    .replace(/<[^>]+>/g, ' ')
    .replace(/[\s\u00a0\u202f]+/g, ' ');
}

function todayOf(page: BuildPage): string {
  return words(DaySheetSheet({ page, day: page.forecast.days[0]!, person: null }));
}

describe('a day without work', () => {
  const of = (hours: string, isSomebodyIn: boolean) => {
    const page = pageOf({
      people: [
        { id: 'me', name: 'Me', hours },
        { id: 'tom', name: 'Tom', hours: 'never' },
      ],
    });
    const free = page.forecast.days.findLast(
      ({ people }) =>
        people.every(({ spells }) => spells.length === 0) &&
        people.some(({ open }) => open.length > 0) === isSomebodyIn,
    )!;
    return words(DaySheetSheet({ page, day: free, person: null }));
  };

  it('says who is in all the same, to midnight as 24:00', () => {
    const text = of('daily 00:00-06:00 14:00-24:00', true);
    expect(text).toContain('Nothing is planned. In on this day: Me 00:00–06:00, 14:00–24:00.');
    expect(text).not.toContain('Nobody is in');
  });

  it('says that nobody is in where nobody is', () => {
    expect(of('mon-thu 08:00-18:00', false)).toContain('Nobody is in and no machine runs.');
  });
});

describe('today’s day sheet', () => {
  it('gives what should have been ordered before today with its real day', () => {
    const page = pageOf();
    const shell = page.forecast.orders.find(({ part }) => part === 'shell')!;
    expect(shell.orderBy).toBeLessThan(NOW - 1440);
    expect(todayOf(page)).toMatch(
      /To order .*Shell: should have been ordered by (Mon|Tue|Wed|Thu|Fri|Sat) 2\d Nov \d\d:\d\d/,
    );
    expect(todayOf(page)).not.toMatch(/Shell before/);
  });

  it('gives what has still to be ordered today with its hour', () => {
    const page = pageOf();
    const today = page.forecast.days[0]!;
    const open = { ...today, orders: [{ step: 'order-axle', name: 'Axle', by: NOW + 60 }] };
    expect(words(DaySheetSheet({ page, day: open, person: null }))).toContain('Axle before 17:30');
  });

  it('gives a question that should have been decided with its real day', () => {
    const page = pageOf();
    const today = page.forecast.days[0]!;
    const late = {
      ...today,
      decisions: [{ id: 'colour', question: 'Which colour?', by: minutes('2026-11-28T15:26Z') }],
    };
    expect(words(DaySheetSheet({ page, day: late, person: null }))).toContain(
      'Which colour? Should have been decided by Sat 28 Nov 15:26',
    );
  });

  it('says when a run had really ended that nobody has unloaded', () => {
    const entry: LogEntry = { id: 'load-0001', kind: 'loaded', step: 'wash', n: 4, at: '2026-11-29T00:43:00Z' };
    const page = pageOf({}, [entry]);
    expect(page.forecast.steps.find(({ id }) => id === 'wash')?.underWay[0]?.backAt).toBe(minutes('2026-11-29T02:13Z'));
    const text = todayOf(page);
    expect(text).toContain('finished today 02:13, unload it');
    expect(text).not.toContain('till 16:30');
  });

  it('says in words when somebody is away', () => {
    const noon = { id: 'pal', name: 'Pal', hours: 'daily 12:00-12:30' };
    const page = pageOf({ people: [...BUILD.people!, noon] });
    const day = page.forecast.days.find(({ people }) => people.some(({ spells }) => spells.length > 0))!;
    const html = renderFragment(DaySheetSheet({ page, day, person: null }));
    expect(html).toMatch(/<td class="away">away<\/td>/);
  });

  it('is one tap from Countdown and Dates', () => {
    const page = pageOf();
    for (const sheet of [CountdownSheet({ page, since: null }), DatesSheet({ page })]) {
      expect(renderFragment(sheet)).toContain('href="/b/gate/dates/2026-11-29">Today’s day sheet</a>');
    }
  });
});

describe('a run that ends late in the evening', () => {
  it('has its machine beside whoever unloads it the next morning, when the machine itself stands still', () => {
    const page = pageOf({
      machines: [{ ...BUILD.machines![0]!, count: 2 }],
      steps: [
        {
          ...BUILD.steps[0]!,
          phases: [
            { kind: 'hands', minutes: 5 },
            { kind: 'run', machine: 'press', minutes: '6 h' },
            { kind: 'hands', minutes: 5 },
          ],
        },
      ],
      decisions: [],
    });
    const day = page.forecast.days[1]!;
    expect(day.machines.flatMap(({ spells }) => spells)).toEqual([]);
    expect(words(DayWork({ page, day, person: 'me' }))).toMatch(/unload: Wash, 4 units, on Press 1 /i);
  });
});

describe('days without a last moment', () => {
  it('have nothing due', () => {
    expect(words(DatesSheet({ page: pageOf() }))).toMatch(/nothing due\./);
  });
});

describe('what is bought one at a time', () => {
  it('has no packs, and one pack is one pack', () => {
    const text = words(DesignSheet({ page: pageOf(), open: null }));
    expect(text).toMatch(/\b1 pack\b/);
    expect(text).not.toMatch(/\b3 packs\b|\b1 packs\b/);
  });
});
