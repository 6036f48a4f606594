import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { criticalPath, totalSlackTo, UNKNOWN_SLACK } from '../../../server/engine/06-critical-path/critical-path.ts';
import {
  ALREADY_BEGUN,
  addLag,
  DRIVEN_BY_NOW,
  DRIVEN_BY_RELEASE,
  latestBeforeLag,
} from '../../../server/engine/06-critical-path/passes.ts';
import { readWall, wallText } from '../../../server/engine/calendar/clock.ts';
import { openTimeOfHours, readHours } from '../../../server/engine/calendar/hours.ts';
import { arrivalTable, supplierDays } from '../../../server/engine/calendar/supplier-days.ts';
import { calendarFrom, LONG_AGO, NEVER } from '../../../server/engine/calendar/working-time.ts';
import { type Calendar, LINK_TYPES, type Link, type Lot, type Phase, type Work } from '../../../server/engine/types.ts';
import { ALWAYS, link, lot, networkFor, person, textbook, work } from '../_network.ts';

const BERLIN = 'Europe/Berlin';
const at = (text: string) => must(readWall(text, BERLIN));
const said = (t: number) => wallText(t, BERLIN);
const calendar = (text: string) =>
  must(openTimeOfHours(must(readHours(text)), BERLIN, at('2026-09-01T00:00'), at('2026-12-31T00:00')));

const days = calendar('mon-fri 08:00-12:00 13:00-17:00');
const evenings = calendar('daily 18:00-22:00');

const hands = (minutes: number, open: Calendar, oneGo = false): Phase => ({
  kind: 'hands',
  minutes,
  people: 1,
  eligible: [0],
  oneGo,
  open,
});
const run = (minutes: number, open: Calendar): Phase => ({
  kind: 'run',
  minutes,
  machine: 1,
  attended: false,
  people: 0,
  eligible: [],
  open,
});
const wait = (minutes: number): Phase => ({ kind: 'wait', minutes });

function pathOf(made: Work, target: Parameters<typeof criticalPath>[2] = 'deadline') {
  return criticalPath(made, networkFor(made), target);
}

describe('a workshop week', () => {
  // Friday 2 October 2026, 14:00; ready by Tuesday 17:00.
  const lots = [
    lot('cut', [hands(240, days)], { deadline: at('2026-10-06T17:00') }),
    lot('paint', [hands(60, days), wait(240)], { deadline: at('2026-10-06T17:00') }),
    lot('mount', [hands(120, days)], { deadline: at('2026-10-06T17:00') }),
  ];
  const week = work({
    now: at('2026-10-02T14:00'),
    readyBy: at('2026-10-06T17:00'),
    loadIn: at('2026-10-07T08:00'),
    event: at('2026-10-08T19:00'),
    resources: [person('ana', days)],
    lots,
    links: [link(0, 1), link(1, 2)],
  });
  const path = pathOf(week);

  it('carries work over the weekend and through the lunch break', () => {
    expect(Array.from(path.earlyStart, said)).toEqual(['2026-10-02T14:00', '2026-10-05T09:00', '2026-10-05T14:00']);
    expect(Array.from(path.earlyFinish, said)).toEqual(['2026-10-05T09:00', '2026-10-05T14:00', '2026-10-05T16:00']);
  });

  it('counts back from the ready-by through the same hours', () => {
    expect(Array.from(path.lateStart, said)).toEqual(['2026-10-05T15:00', '2026-10-06T10:00', '2026-10-06T15:00']);
    expect(Array.from(path.lateFinish, said)).toEqual(['2026-10-06T10:00', '2026-10-06T15:00', '2026-10-06T17:00']);
  });

  it('says slack in clock minutes and in working minutes', () => {
    expect([...path.totalSlack.clock]).toEqual([73 * 60, 25 * 60, 25 * 60]);
    expect([...path.totalSlack.working]).toEqual([9 * 60, 9 * 60, 9 * 60]);
  });

  it('gives the room to ready-by, load-in and event apart', () => {
    expect(said(path.readyAt)).toBe('2026-10-05T16:00');
    expect(path.room).toEqual({ readyBy: 25 * 60, loadIn: 40 * 60, event: 75 * 60 });
  });

  it('goes negative by as much as the end is late', () => {
    const late = pathOf(week, at('2026-10-05T15:00'));
    expect(late.totalSlack.working[2]).toBe(-60);
    expect(late.totalSlack.clock[0]).toBeLessThan(0);
    expect(pathOf({ ...week, readyBy: at('2026-10-05T15:00') }).room.readyBy).toBe(-60);
  });

  it('takes a target for each lot, or refuses the wrong number of them', () => {
    const each = Int32Array.from([at('2026-10-05T10:00'), at('2026-10-06T17:00'), at('2026-10-06T17:00')]);
    expect(pathOf(week, each).totalSlack.working[0]).toBe(60);
    expect(() => pathOf(week, Int32Array.from([1]))).toThrow(RangeError);
  });

  it('computes the slack to one more target from the dates at hand', () => {
    expect(totalSlackTo(week, networkFor(week), path, 'deadline')).toEqual(path.totalSlack);
    const event = totalSlackTo(week, networkFor(week), path, week.event);
    expect(event.clock[2]).toBe(at('2026-10-08T15:00') - at('2026-10-05T14:00'));
  });
});

describe('what is critical when calendars close', () => {
  // The coat is dry at 22:30, nobody comes before 18:00 the next day: the first coat has an evening of room.
  const coats = work({
    now: at('2026-10-05T18:00'),
    resources: [person('ana', evenings)],
    lots: [lot('first coat', [hands(30, evenings), wait(240)]), lot('second coat', [hands(30, evenings)])],
    links: [link(0, 1)],
  });
  const path = pathOf(coats, 'finish');

  it('is only what has no working minute to lose', () => {
    expect([...path.critical]).toEqual([0, 1]);
    expect([...path.slackToOwnEnd.working]).toEqual([210, 0]);
    expect([...path.freeSlack.working]).toEqual([210, 0]);
  });

  it('leaves the path one unbroken chain all the same', () => {
    expect(path.path).toEqual([
      { lot: 0, drivenBy: DRIVEN_BY_NOW },
      { lot: 1, drivenBy: 0 },
    ]);
  });

  it('counts the slack of a delivery in the hours of all people', () => {
    const supplier = must(supplierDays({ cutOffMinute: 14 * 60 }));
    const arrivals = arrivalTable(supplier, 2, BERLIN, at('2026-09-01T00:00'), at('2026-12-01T00:00'));
    const order = work({
      now: at('2026-10-05T10:00'),
      resources: [person('ana', evenings), person('ben', days)],
      lots: [
        lot('order', [{ kind: 'lead', workingDays: 2, arrivals }], { deadline: at('2026-10-08T19:00') }),
        lot('mount', [hands(60, evenings)], { deadline: at('2026-10-08T19:00') }),
      ],
      links: [link(0, 1)],
    });
    const dates = pathOf(order);
    expect(said(dates.earlyFinish[0]!)).toBe('2026-10-07T12:00');
    expect(said(dates.lateStart[0]!)).toBe('2026-10-06T14:00');
    // Monday 10-12, 13-17 and 18-22, Tuesday 8-12 and 13-14.
    expect(dates.totalSlack.working[0]).toBe((2 + 4 + 4 + 4 + 1) * 60);
    expect(said(dates.earlyStart[1]!)).toBe('2026-10-07T18:00');
  });

  it('runs a print through the night of the clock change and unloads it in the evening', () => {
    const print = lot('print', [hands(8, evenings), run(14 * 60, ALWAYS), hands(4, evenings)]);
    const night = work({ now: at('2026-10-24T21:00'), lots: [print], resources: [person('ana', evenings)] });
    const dates = pathOf(night, at('2026-10-25T22:00'));
    expect(said(dates.earlyFinish[0]!)).toBe('2026-10-25T18:04');
    expect(said(dates.lateStart[0]!)).toBe('2026-10-24T21:52');
    // The night has an hour more: fourteen hours from 21:08 end at 10:08.
    const cure = work({ now: at('2026-10-24T21:08'), lots: [lot('cure', [wait(14 * 60)])] });
    expect(said(pathOf(cure).readyAt)).toBe('2026-10-25T10:08');
  });
});

describe('lots under way, released or pinned', () => {
  it('starts what is under way when it began and lets it hold the rest', () => {
    const made = work({
      now: 100,
      lots: [
        lot('printing', [run(90, ALWAYS)], { begunAt: 40 }),
        lot('mount', [wait(10)]),
        lot('never fed', [wait(5)]),
      ],
      links: [link(2, 0), link(0, 1)],
    });
    const path = pathOf(made, 'finish');
    expect([...path.earlyStart]).toEqual([40, 130, 100]);
    expect(path.path).toEqual([
      { lot: 0, drivenBy: ALREADY_BEGUN },
      { lot: 1, drivenBy: 1 },
    ]);
    // What has begun waits for nobody any more, so what should have fed it is not pressed by it.
    expect([...path.totalSlack.clock]).toEqual([0, 0, 35]);
    expect([path.lateStart[0], path.lateFinish[0]]).toEqual([40, 130]);
  });

  it('names the release that holds the first lot of the path', () => {
    const made = work({
      lots: [lot('set up', [wait(10)], { release: 50 }), lot('test', [wait(5)])],
      links: [link(0, 1)],
    });
    expect(pathOf(made).path[0]).toEqual({ lot: 0, drivenBy: DRIVEN_BY_RELEASE });
    expect(pathOf(made).readyAt).toBe(65);
    const pinned = { ...made, lots: [lot('set up', [wait(10)], { release: 50, pinnedStart: 70 }), made.lots[1]!] };
    expect(pathOf(pinned).readyAt).toBe(85);
  });

  it('tells the end of the workshop from the end of all', () => {
    const made = work({
      loadIn: 100,
      readyBy: 90,
      event: 200,
      lots: [
        lot('make', [wait(40)]),
        lot('pack', [wait(10)]),
        lot('set up', [wait(30)], { release: 100, onSite: true }),
      ],
      links: [link(0, 1), link(1, 2)],
    });
    const path = pathOf(made, 'finish');
    expect([path.readyAt, path.finishAt]).toEqual([50, 130]);
    expect(path.room).toEqual({ readyBy: 40, loadIn: 50, event: 70 });
    expect([...path.critical]).toEqual([1, 1, 1]);
    expect(path.path.map((step) => step.lot)).toEqual([0, 1]);
    expect(path.pathToFinish).toEqual([{ lot: 2, drivenBy: DRIVEN_BY_RELEASE }]);
  });
});

describe('what cannot be dated', () => {
  it('dates what a circle leaves and says nothing of the rest', () => {
    const made = work({
      lots: [lot('a', [wait(5)]), lot('b', [wait(5)]), lot('c', [wait(5)]), lot('d', [wait(5)])],
      links: [link(0, 3), link(1, 2), link(2, 1)],
    });
    const path = pathOf(made, 50);
    expect([...path.earlyFinish]).toEqual([5, NEVER, NEVER, 10]);
    expect([...path.lateStart]).toEqual([40, LONG_AGO, LONG_AGO, 45]);
    expect([...path.totalSlack.clock]).toEqual([40, UNKNOWN_SLACK, UNKNOWN_SLACK, 40]);
    expect([path.readyAt, path.room.readyBy]).toEqual([NEVER, UNKNOWN_SLACK]);
  });

  it('says never when the hours run out, and keeps the slack of the others', () => {
    const made = work({
      lots: [lot('long', [hands(1000, calendarFrom([[0, 60]]))]), lot('short', [wait(30)]), lot('after', [wait(1)])],
      links: [link(0, 2)],
    });
    const path = pathOf(made, 'finish');
    expect([...path.earlyFinish]).toEqual([NEVER, 30, NEVER]);
    expect(path.totalSlack.clock[1]).toBe(0);
    expect([path.totalSlack.clock[0], path.totalSlack.working[2]]).toEqual([UNKNOWN_SLACK, UNKNOWN_SLACK]);
    expect(path.path.map((step) => step.lot)).toEqual([1]);
  });

  it('keeps the slack to the own end of what feeds work for which the hours run out', () => {
    const hopeless = lot('long', [hands(1000, calendarFrom([[0, 60]]))]);
    const made = work({
      lots: [lot('print', [wait(10)]), hopeless, lot('short', [wait(30)]), lot('coat', [wait(20)]), lot('after', [])],
      links: [link(0, 1), link(1, 4), link(3, 4, 'finish-finish')],
    });
    const { slackToOwnEnd, freeSlack, critical } = pathOf(made, 'finish');
    expect([...slackToOwnEnd.clock]).toEqual([20, UNKNOWN_SLACK, 0, 10, UNKNOWN_SLACK]);
    expect([freeSlack.clock[0], freeSlack.clock[3]]).toEqual([20, 10]);
    expect([...critical]).toEqual([0, 0, 1, 0, 0]);
  });

  it('answers for nothing at all', () => {
    const path = pathOf(work({ now: 7, readyBy: 10 }));
    expect([path.readyAt, path.finishAt, path.path.length, path.room.readyBy]).toEqual([7, 7, 0, 3]);
  });
});

it('moves the end by exactly what a lot of the path grows', () => {
  // The critical path test, number 12 of the DCMA 14-point assessment, which uses 600 days.
  const links = 'A>B B>C C>D C>E E>F D>G E>H G>H C>I F>J I>J J>K J>L H>M K>N L>N';
  const before = textbook('A2 B4 C10 D6 E4 F5 G7 H9 I7 J8 K4 L5 M2 N6', links).work;
  const { path, finishAt } = pathOf(before, 'finish');
  expect(path.length).toBe(8);
  for (const { lot: grown } of path) {
    const lots = before.lots.map((one, i): Lot => {
      const [phase] = one.phases;
      return i === grown && phase?.kind === 'wait' ? { ...one, phases: [wait(phase.minutes + 600)] } : one;
    });
    expect(pathOf({ ...before, lots }, 'finish').finishAt).toBe(finishAt + 600);
  }
});

it('dates a chain of 100,000 lots without overflowing', () => {
  const count = 100_000;
  const lots = Array.from({ length: count }, (_, i) => lot(`lot ${i}`, [wait(2)]));
  const path = pathOf(work({ lots, links: Array.from({ length: count - 1 }, (_, i) => link(i, i + 1)) }), 'finish');
  expect([path.finishAt, path.path.length]).toEqual([2 * count, count]);
});

describe('lags', () => {
  it('count in open minutes when they are given a calendar', () => {
    const made = work({
      now: at('2026-10-02T15:00'),
      lots: [lot('print', [wait(60)]), lot('paint', [wait(10)])],
      links: [{ ...link(0, 1, 'finish-start', 120), lagOpen: days }],
    });
    expect(said(pathOf(made).earlyStart[1]!)).toBe('2026-10-05T09:00');
    const lead = { ...made, links: [{ ...link(0, 1, 'finish-start', -120), lagOpen: days }] };
    expect(said(pathOf({ ...lead, now: at('2026-10-05T07:30') }).earlyStart[1]!)).toBe('2026-10-05T07:30');
  });

  it('are undone exactly backwards, leads included', () => {
    const open = fc
      .array(fc.tuple(fc.nat(40), fc.integer({ min: 1, max: 8 })), { maxLength: 6 })
      .map((pairs) => calendarFrom(pairs.map(([from, length]): [number, number] => [from, from + length])));
    fc.assert(
      fc.property(fc.option(open), fc.nat(50), fc.nat(50), fc.integer({ min: -12, max: 12 }), (hours, s, t, lag) => {
        expect(addLag(hours, s, lag) <= t).toBe(s <= latestBeforeLag(hours, t, lag));
      }),
      { seed: 31, numRuns: 2000 },
    );
  });
});

describe('any network through any calendars', () => {
  const open = fc
    .array(fc.tuple(fc.integer({ min: -20, max: 150 }), fc.integer({ min: 3, max: 20 })), {
      minLength: 3,
      maxLength: 9,
    })
    .map((pairs) =>
      calendarFrom([...pairs.map(([from, length]): [number, number] => [from, from + length]), [160, 400]]),
    );
  const chain = fc
    .tuple(fc.nat(4), fc.integer({ min: 0, max: 9 }), open, open)
    .map(([kind, minutes, mine, its]): Phase[] => {
      if (kind === 0) return [wait(minutes)];
      if (kind === 1) return [hands(minutes, mine)];
      if (kind === 2) return [hands(minutes, mine, true), wait(3)];
      if (kind === 3) return [];
      return [hands(2, mine), run(minutes, its), hands(1, mine)];
    });
  const size = 7;
  const linkOf = fc
    .tuple(
      fc.nat(size - 1),
      fc.nat(size - 1),
      fc.constantFrom(...LINK_TYPES),
      fc.integer({ min: -4, max: 6 }),
      fc.option(open),
    )
    .filter(([a, b]) => a !== b)
    .map(([a, b, type, lag, lagOpen]): Link => ({ ...link(Math.min(a, b), Math.max(a, b), type, lag), lagOpen }));
  const any = fc
    .tuple(fc.array(chain, { minLength: size, maxLength: size }), fc.array(linkOf, { maxLength: 10 }))
    .map(([chains, links]) => work({ lots: chains.map((phases, i) => lot(`lot ${i}`, phases)), links }));

  it('can start each lot at its late start and not a minute later', () => {
    fc.assert(
      fc.property(any, (made) => {
        const path = pathOf(made, 'finish');
        fc.pre(path.finishAt < NEVER);
        for (let i = 0; i < size; i++) {
          expect(pathOf(pinned(made, i, path.lateStart[i]!), 'finish').finishAt).toBe(path.finishAt);
          expect(pathOf(pinned(made, i, path.lateStart[i]! + 1), 'finish').finishAt).toBeGreaterThan(path.finishAt);
        }
      }),
      { seed: 32, numRuns: 200 },
    );
  });

  it('moves no other lot while one slips through its free slack', () => {
    fc.assert(
      fc.property(any, (made) => {
        const path = pathOf(made, 'finish');
        fc.pre(path.finishAt < NEVER);
        for (let i = 0; i < size; i++) {
          const slipped = pathOf(pinned(made, i, path.earlyStart[i]! + path.freeSlack.clock[i]!), 'finish');
          for (let j = 0; j < size; j++) {
            if (j === i) continue;
            expect(slipped.earlyStart[j]).toBe(path.earlyStart[j]);
            expect(slipped.earlyFinish[j]).toBe(path.earlyFinish[j]);
          }
        }
      }),
      { seed: 33, numRuns: 200 },
    );
  });

  it('traces a chain of links to its end, each lot held by the one before', () => {
    fc.assert(
      fc.property(any, (made) => {
        const { path, earlyFinish, finishAt } = pathOf(made, 'finish');
        fc.pre(finishAt < NEVER);
        expect(earlyFinish[path.at(-1)!.lot]).toBe(finishAt);
        path.forEach(({ lot: to, drivenBy }, k) => {
          if (k === 0) expect(drivenBy).toBe(DRIVEN_BY_NOW);
          else expect(made.links[drivenBy]).toMatchObject({ from: path[k - 1]!.lot, to });
        });
      }),
      { seed: 34, numRuns: 200 },
    );
  });

  function pinned(made: Work, i: number, pinnedStart: number): Work {
    return { ...made, lots: made.lots.map((one, k) => (k === i ? { ...one, pinnedStart } : one)) };
  }
});

function must<T>(read: { ok: true; value: T } | { ok: false; problem: { message: string } }): T {
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}
