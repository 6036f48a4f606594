import { afterEach, expect, test } from 'vitest';
import type { Forecast, LedgerPart, TurnCause } from '../../server/model/index.ts';
import type { NewTurn } from '../../server/store/index.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';
import { fakeBuild } from '../support/fake-build.ts';
import { FAKE_NOW, minutes } from '../support/fake-forecast.ts';

const DAY = 1440;
/** What the fake forecast says: 1 day 4 h 20 min. */
const ROOM = 1700;
/** As an earlier program kept it. */
const said = (text: string): TurnCause => [{ code: 'said', text }];
const READY_BY = minutes('2026-12-04T17:00Z');

let fake: FakeApp;
afterEach(() => fake.close());

type Past = Pick<NewTurn, 'computedAt' | 'roomMinutes'> & Partial<NewTurn> & { readonly parts?: readonly LedgerPart[] };

/** The wall with rows of history that were kept before, and its pages in words. */
async function wall(rows: readonly Past[]) {
  fake = await fakeApp({ empty: true });
  const { store, app } = fake;
  const { key } = store.builds.create(fakeBuild(), {
    savedAt: '2026-11-10T09:00:00Z',
    who: 'maker',
    cause: { code: 'made' },
  });
  store.together(() => {
    for (const [i, { parts, ...row }] of rows.entries()) {
      const turn = {
        revision: 1,
        logSeq: 0,
        cause: said(`cause ${i + 1}`),
        who: null,
        readyAt: READY_BY - (row.roomMinutes ?? 0),
        chance: null,
        ...row,
      };
      const kept = { forecast: { lots: [], steps: [] } as unknown as Forecast, revision: 1, logSeq: 0 };
      store.forecasts.keep(key, { ...kept, computedAt: row.computedAt, depth: 'deep' }, turn);
      if (parts) store.forecasts.attribute(key, i + 1, parts);
    }
  });
  return async (path: string): Promise<string> => {
    const { statusCode, body } = await app.inject({ url: `/b/tide-wall${path}` });
    expect(statusCode).toBe(200);
    return body
      .replace(/^.*?<main/s, '<main')
      .replaceAll('\u00a0', ' ')
      .replaceAll('&quot;', '"')
      .replaceAll(/<[^>]*>/g, ' ')
      .replaceAll(/\s+/g, ' ');
  };
}

function part(
  kind: LedgerPart['kind'],
  subject: string | null,
  minutes: number,
  who: string | null = null,
): LedgerPart {
  return { kind, subject, who, minutes };
}

const WEEK: readonly Past[] = [
  { computedAt: FAKE_NOW - 9 * DAY, roomMinutes: ROOM + 900, who: 'maker', cause: said('made') },
  {
    computedAt: FAKE_NOW - 3 * DAY,
    roomMinutes: ROOM + 360,
    who: 'maker',
    cause: said('part "fish" changed'),
    parts: [part('edit', 'part "fish" changed', -540, 'maker')],
  },
  {
    computedAt: FAKE_NOW - 300,
    roomMinutes: ROOM,
    who: 'Ana',
    cause: said('12 done at mount-fish'),
    parts: [part('pace', 'mount-fish', -240), part('counted', null, 600), part('time', null, -720)],
  },
];

test('the Countdown says how much less room there is than yesterday, and where it went', async () => {
  const page = await wall(WEEK);
  expect(await page('')).toContain(
    '6 h less than yesterday : −4 h slow pace at mount fish, −2 h more time passed than work was counted.',
  );
});

test('the ledger shows the room now, yesterday and a week ago', async () => {
  const page = await wall(WEEK);
  expect(await page('/ledger')).toContain(
    'now 1 day 4 h today 10:12 yesterday 1 day 10 h yesterday 10:12 a week ago 1 day 19 h Wed 18 Nov 10:12 Room 1 day 4 h, of 9 days 7 h to the ready-by, Fri 4 Dec 18:00.',
  );
});

test.each([
  [
    'day',
    'since yesterday 6 h less than yesterday. −4 h slow pace at mount fish −2 h more time passed than work was counted +10 h units counted −12 h time passed −6 h room 1 day 10 h',
  ],
  [
    'week',
    'last 7 days 15 h less than a week ago. −9 h part "fish" changed (maker) −4 h slow pace at mount fish −2 h more time',
  ],
  [
    'start',
    'since the start 15 h less than at first, Mon 16 Nov 10:12. −9 h part "fish" changed (maker) −4 h slow pace',
  ],
])('the sums of the span %s add up to its change', async (span, words) => {
  const page = await wall(WEEK);
  expect(await page(`/ledger?since=${span}`)).toContain(`Causes, ${words}`);
});

test('each line has its instant, who, the cause, the parts and the room after it', async () => {
  const page = await wall(WEEK);
  expect(await page('/ledger')).toMatch(
    /Line by line 3 12 done at mount-fish today 05:12, Ana −6 h room 1 day 4 h 20 min −4 h slow pace at mount fish −2 h more time passed than work was counted: units counted \+10 h, time passed −12 h 2 part "fish" changed Sun 22 Nov 10:12, maker −9 h room 1 day 10 h 20 min −9 h part "fish" changed \(maker\) 1 made Mon 16 Nov 10:12, maker the first forecast room 1 day 19 h 20 min/,
  );
});

test('lines that were worked out afterwards from the log say so, with the chance of that time', async () => {
  const page = await wall([{ computedAt: FAKE_NOW - 60, roomMinutes: ROOM, cause: said('brought from a file') }]);
  const then = {
    computedAt: FAKE_NOW - 9 * DAY,
    revision: 1,
    logSeq: 0,
    cause: [{ code: 'nothing-counted' }] as const,
    who: null,
  };
  const turn = { ...then, readyAt: READY_BY - ROOM - 90, roomMinutes: ROOM + 90, chance: 0.731 };
  fake.store.forecasts.prepend(fake.store.builds.ground('tide-wall')!.key, [{ turn, former: null }], null);
  const words = await page('/ledger?since=week');
  expect(words).toContain('1 h 30 min less than a week ago.');
  expect(words).toContain(
    'Line by line Line 1 was worked out afterwards from the log and the plan as imported; earlier edits are not known.',
  );
  expect(words).toContain(
    '1 nothing counted yet Mon 16 Nov 10:12 (worked out afterwards) the first forecast room 1 day 5 h 50 min 73 % likely',
  );
});

test('who did what since yesterday is told by name', async () => {
  const page = await wall(WEEK);
  const at = new Date((FAKE_NOW - 5) * 60_000).toISOString();
  fake.planner.append('tide-wall', [{ id: 'tap-00001', kind: 'done', step: 'press', n: 2, at }], 'Ana');
  await fake.planner.edit('tide-wall', [{ kind: 'set', list: 'build', field: 'note', value: 'x' }], 'maker');
  const words = await page('/ledger');
  expect(words).toContain('Ana 2 done at press');
  expect(words).toContain('maker The build: note Opening night of the harbour museum. → x');
});

test('a change that was never told apart stands under its cause, and in the sums', async () => {
  const page = await wall(WEEK.map(({ parts: _, ...row }) => row));
  const words = await page('/ledger');
  expect(words).toContain('Causes, since yesterday 6 h less than yesterday. −6 h not split up');
  expect(words).toContain('3 12 done at mount-fish today 05:12, Ana −6 h room 1 day 4 h 20 min not split up');
});

test('what is not split up yet comes first where it is the most', async () => {
  const rows = WEEK.map((row, i) => (i === 2 ? { ...row, parts: [part('time', null, -60)] } : row));
  const page = await wall(rows);
  expect(await page('')).toMatch(/6 h less than yesterday : −5 h not split up yet, −1 h time passed/);
});

test('what has drifted since the last line is time passed', async () => {
  const page = await wall([{ computedAt: FAKE_NOW - 20, roomMinutes: ROOM + 20 }]);
  expect(await page('')).toContain('20 min less than at first, today 09:52 : −20 min time passed');
});

test('an empty ledger says so, and one of a single line', async () => {
  const page = await wall([]);
  await page('');
  await fake.planner.settled();
  expect(await page('/ledger')).toContain(
    'The same as at first, today 10:12. Nothing gained or cost room in that time.',
  );
  expect(await page('')).toContain('the same as at first, today 10:12');
});

test('rooms without a date and rooms short of the ready-by are said as what they are', async () => {
  const page = await wall([
    { computedAt: FAKE_NOW - 9 * DAY, roomMinutes: null, readyAt: null },
    { computedAt: FAKE_NOW - 8 * DAY, roomMinutes: -90 },
  ]);
  const words = await page('/ledger?since=start');
  expect(words).toContain('At first, Mon 16 Nov 10:12 there was no date yet, so there is nothing to compare.');
  expect(words).toContain('a week ago 1 h 30 min short');
});

test('two thousand lines come fifty to a page', async () => {
  const rows = Array.from({ length: 2000 }, (_, i) => ({
    computedAt: FAKE_NOW - 20 * DAY + i * 14,
    roomMinutes: ROOM + 1999 - i,
    parts: i === 0 ? [] : [part('time', null, -1)],
  }));
  const page = await wall(rows);
  const numbers = (words: string) => [...words.matchAll(/(\d+) cause \1 /g)].map(([, n]) => Number(n));
  const newest = numbers(await page('/ledger'));
  expect([newest[0], newest.at(-1), newest.length]).toEqual([2000, 1951, 50]);
  const oldest = numbers(await page('/ledger?before=51'));
  expect([oldest[0], oldest.at(-1)]).toEqual([50, 1]);
  for (const odd of ['0', '-5', 'x', '99999999999', '2']) {
    expect(numbers(await page(`/ledger?before=${odd}&since=never`)).length).toBeGreaterThan(0);
  }
  expect(await page('/ledger?since=start')).toContain('−1 day 9 h 19 min time passed with nothing counted');
});
