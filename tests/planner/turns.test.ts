import { once } from 'node:events';
import { MessageChannel } from 'node:worker_threads';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { keptScheduleOf } from '../../server/engine/index.ts';
import type { LogEntry, NewLogEntry } from '../../server/model/index.ts';
import { knowSchedule, readSchedule, writtenInTurns, writtenSchedule } from '../../server/planner/background/former.ts';
import {
  unwrapFile,
  unwrapSpan,
  unwrapTask,
  wrapFile,
  wrapSpan,
  wrapTask,
} from '../../server/planner/background/parcel.ts';
import { createGroundCache } from '../../server/planner/ground.ts';
import { joined, joinedInTurns, packedPieces, piecesOf, unpacked } from '../../server/store/forecast-pieces.ts';
import { lantern, openStore, SAVED } from '../store/helpers.ts';
import { bench, NOON, noonTap, simpleForecast } from './helpers.ts';

afterEach(() => void vi.restoreAllMocks());

const ENTRIES = 4_000;

/** A log as an export has it. */
function longLog(entries: number): LogEntry[] {
  return Array.from({ length: entries }, (_, i) => ({
    ...noonTap({ id: `long-${String(i).padStart(6, '0')}`, at: '2026-11-29T10:00:00Z' }),
    seq: i + 1,
    arrived: '2026-11-29T10:00:05Z',
  }));
}

/** Counts the turns that others get until it is stopped. */
function othersTurns(look: () => void = () => undefined): { stop(): number } {
  let turns = 0;
  let isOver = false;
  const turn = (): void => {
    if (isOver) return;
    turns += 1;
    look();
    setImmediate(turn);
  };
  setImmediate(turn);
  return {
    stop: () => {
      isOver = true;
      return turns;
    },
  };
}

describe('a long log that is brought in', () => {
  it('is written and read in parts, and its build is seen by nobody until all of it is there', async () => {
    const { planner, store } = await bench();
    const bring = vi.spyOn(store.log, 'bring');
    const since = vi.spyOn(store.log, 'since');
    const seen = new Set<number>();
    const turns = othersTurns(() => seen.add(planner.builds().find(({ id }) => id === 'second')?.entries ?? 0));
    const made = await planner.create({ ...lantern(), id: 'second' }, longLog(ENTRIES), 'maker');
    expect(turns.stop()).toBeGreaterThan(4);
    expect(made.ok).toBe(true);
    expect([...seen].filter((entries) => entries !== 0 && entries !== ENTRIES)).toEqual([]);
    expect(Math.max(...bring.mock.calls.map(([, some]) => some.length))).toBeLessThanOrEqual(1000);
    expect(Math.max(...since.mock.results.map(({ value }) => value.length))).toBeLessThanOrEqual(1000);
    expect(planner.log('second').map(({ seq }) => seq)).toEqual(longLog(ENTRIES).map(({ seq }) => seq));
  });

  it('that is refused, or whose name is taken meanwhile, leaves nothing to be seen', async () => {
    const { planner } = await bench();
    const bad = longLog(ENTRIES).map((entry, i) => (i === 3_500 ? { ...entry, at: '2027-11-29T10:00:00Z' } : entry));
    const refused = await planner.create({ ...lantern(), id: 'second' }, bad, 'maker');
    expect(refused.ok ? [] : refused.problems.map(({ field }) => field)).toEqual(['log.at']);
    const both = await Promise.all(
      [1, 2].map(() => planner.create({ ...lantern(), id: 'second' }, longLog(ENTRIES), 'maker')),
    );
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
    expect(planner.builds().filter(({ id }) => id === 'second')).toMatchObject([{ entries: ENTRIES }]);
  });

  it('by another hand is read in parts before it is looked at', async () => {
    const store = openStore();
    const { key } = store.builds.create(lantern(), SAVED);
    const ground = createGroundCache(store);
    ground.get('lantern');
    store.log.bring(key, longLog(ENTRIES), '2026-11-30T10:00:05Z');
    const since = vi.spyOn(store.log, 'since');
    const turns = othersTurns();
    await ground.fetch('lantern');
    expect(turns.stop()).toBeGreaterThan(2);
    expect(ground.get('lantern')!.log.length).toBe(ENTRIES);
    expect(Math.max(...since.mock.results.map(({ value }) => value.length))).toBeLessThanOrEqual(1000);
  });
});

describe('many entries that are sent at once', () => {
  it('are stored in turns with others, who are answered between, and each sender gets all receipts in order', async () => {
    const { planner } = await bench();
    // Each look at the clock costs ten milliseconds, from now on: two entries a turn.
    let clock = Math.ceil(performance.now());
    vi.spyOn(performance, 'now').mockImplementation(() => (clock += 10));
    const many = Array.from({ length: 60 }, () => noonTap());
    const answered: string[] = [];
    const long = planner.appendSoon('lantern', many, 'maker').then((receipts) => {
      answered.push('many');
      return receipts;
    });
    await new Promise((resolve) => setImmediate(() => setImmediate(() => setImmediate(resolve))));
    const short = planner.appendSoon('lantern', [noonTap()], 'Ana').then(() => answered.push('one'));
    const [receipts] = await Promise.all([long, short]);
    expect(answered).toEqual(['one', 'many']);
    expect(receipts.map(({ id, state }) => `${id} ${state}`)).toEqual(many.map(({ id }) => `${id} stored`));
    expect(planner.log('lantern').length).toBe(61);
  });

  it('are compared with entries that say the same, not with the whole log', async () => {
    const { planner } = await bench();
    planner.append('lantern', [noonTap({ id: 'by-ana-0001', n: 5 })], 'Ana');
    const sent: NewLogEntry[] = [noonTap({ n: 5 }), noonTap({ n: 4 }), noonTap({ n: 5, step: 'glue' })];
    const questions = planner.append('lantern', sent, 'Tom').map((receipt) => receipt.questions.length);
    expect(questions).toEqual([1, 0, 0]);
    const undo = (): NewLogEntry => {
      const { step: _, n: __, ...rest } = noonTap({ kind: 'undo', undoes: 'by-ana-0001' });
      return rest;
    };
    const twice = [undo(), undo()].map((entry) => planner.append('lantern', [entry], 'maker')[0]!.questions.length);
    expect(twice).toEqual([0, 1]);
  });
});

describe('what goes from thread to thread', () => {
  const forecast = simpleForecast(lantern(), [], NOON);
  const large = {
    ...forecast,
    lots: Array.from({ length: 3_000 }, (_, i) => ({ ...forecast.lots[0]!, id: `cut/${i}`, number: i })),
  };

  it('is the schedule of a forecast as text, the same however it was written', async () => {
    const levelled = { start: NOON, finish: NOON + 60 } as never;
    const lots = large.lots.map((lot, i) => ({
      ...lot,
      ...{ step: 'cut', set: null, firstUnit: i, lastUnit: i, placements: [] },
      levelled: i % 7 === 0 ? null : levelled,
    }));
    const planned = { ...large, lots };
    const schedule = keptScheduleOf(planned);
    expect(schedule.length).toBeGreaterThan(2_000);
    expect(readSchedule(writtenSchedule({ ...planned, lots: [...planned.lots] }))).toEqual(schedule);
    expect(readSchedule(await writtenInTurns({ ...planned, lots: [...planned.lots] }))).toEqual(schedule);
    expect(readSchedule(writtenSchedule({ ...planned, lots: [] }))).toEqual([]);
    expect(writtenSchedule(knowSchedule({ ...planned }, 'as it came')).text).toBe('as it came');
  });

  it('is a forecast in pieces of some kilobytes, which are the forecast again', async () => {
    for (const one of [forecast, large]) {
      const pieces = piecesOf(one);
      expect(Math.max(...pieces.map(({ text }) => text.length))).toBeLessThan(150_000);
      expect(joined(pieces)).toEqual(JSON.parse(JSON.stringify(one)));
      expect(await joinedInTurns(packedPieces(one))).toEqual(JSON.parse(JSON.stringify(one)));
    }
    expect(piecesOf(large).length).toBeGreaterThan(2);
  });

  it('is kept as it came: what did not change is not written anew', () => {
    const came = joined(piecesOf(large, true));
    const [known, kept] = [
      new Set(piecesOf(large, true).map(({ packed }) => String(packed))),
      packedPieces({ ...came, now: 1 }),
    ];
    expect(kept.filter((piece) => !known.has(String(piece))).length).toBe(1);
    expect(joined(kept.map(unpacked))).toEqual({ ...came, now: 1 });
  });

  it('is a task, a span or a file, whatever is in it', async () => {
    const log = longLog(1_200);
    const former = [{ step: 'cut', set: null, firstUnit: 1, lastUnit: 2, start: 5, people: [['ana']], starts: [5] }];
    const written = { text: JSON.stringify(former) };
    const task = { build: lantern(), log, now: NOON, depth: 'deep', former: written } as const;
    expect(unwrapTask(await wrapTask(task))).toEqual(task);
    expect(unwrapTask(await wrapTask({ ...task, former }))).toEqual(task);
    const { former: _, ...bare } = task;
    expect(unwrapTask(await wrapTask(bare))).toEqual(bare);
    // What is long goes in memory that threads share, whatever is written in it.
    const named = { ...task, log: log.map((entry) => ({ ...entry, who: 'Zoë \u6728' })) };
    const parcel = await wrapTask(named);
    expect(parcel.log.map((text) => typeof text)).toEqual(['object', 'object', 'string']);
    const { port1, port2 } = new MessageChannel();
    port1.postMessage(parcel);
    const [come] = (await once(port2, 'message')) as [typeof parcel];
    port1.close();
    expect(unwrapTask(come)).toEqual(named);
    // Another log with the same first and last entry is another log.
    const fewer = { ...task, log: log.filter((_, i) => i !== 300) };
    expect(unwrapTask(await wrapTask(fewer)).log).toEqual(fewer.log);
    const state = { build: lantern(), now: NOON, room: 3 };
    const edits = [{ build: lantern(), log: log.slice(0, 700), now: NOON, cause: 'x', who: 'maker' }];
    const span = { before: { ...state, log: [] }, edits, after: { ...state, log }, former: written };
    expect(unwrapSpan(await wrapSpan(span as never))).toEqual(span);
    const file = { ok: true, value: { format: 'daywright-build', version: 1, build: lantern(), log } } as const;
    expect(await unwrapFile(await wrapFile(file as never))).toEqual(file);
  });
});
