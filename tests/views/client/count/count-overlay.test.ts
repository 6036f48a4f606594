import { describe, expect, it } from 'vitest';
import { runningClocks } from '../../../../server/model/log/index.ts';
import { beforeTap, createRunningClock, duePause } from '../../../../views/client/count/count-clock.ts';
import { createOverlay, myEntries, openDoubts, shownSteps } from '../../../../views/client/count/count-overlay.ts';
import { afterChanges, type Change } from '../../../../views/client/count/count-steps.ts';
import type {
  CountDoubt,
  CountState,
  CountStep,
  OwnEntry,
  WireEntry,
} from '../../../../views/client/outbox/count-wire.ts';
import type { Kept } from '../../../../views/client/outbox/outbox-shelf.ts';
import { seeded } from '../../../support/fuzz-requests.ts';

describe('the counts on the page', () => {
  it('are the server’s plus what waits here', () => {
    expect(press([kept({ n: 3 }), kept({ n: 2 })])).toMatchObject({ counted: 15, left: 25 });
  });

  it('count what has arrived only while the state is older than it', () => {
    expect(press([kept({ n: 3 }, { state: 'arrived', seq: 8 })])).toMatchObject({ counted: 13 });
    expect(press([kept({ n: 3 }, { state: 'arrived', seq: 7 })])).toMatchObject({ counted: 10 });
  });

  it('do not count a tap twice whose answer was lost on the way', () => {
    const lost = kept({ n: 3 });
    const [step] = shownSteps(state({ mine: [{ ...own(lost.id), n: 3, seq: 7 }] }), [lost], true);
    expect(step?.sets[0]).toMatchObject({ counted: 10 });
    const [later] = shownSteps(state({ mine: [{ ...own(lost.id), n: 3, seq: 8 }] }), [lost], true);
    expect(later?.sets[0]).toMatchObject({ counted: 13 });
  });

  it('leave out what was refused, and what cannot be kept until it has arrived', () => {
    expect(press([kept({ n: 3 }, { state: 'refused' })])).toMatchObject({ counted: 10 });
    expect(press([kept({ n: 3 })], false)).toMatchObject({ counted: 10 });
  });

  it('go back when an entry is taken back, wherever it lies', () => {
    const [here, there] = [kept({ n: 3 }), kept({ n: 4 }, { state: 'arrived', seq: 5 })];
    expect(press([here, undo(here.id)])).toMatchObject({ counted: 10 });
    expect(press([there, undo(there.id)])).toMatchObject({ counted: 6, left: 34 });
    const elsewhere: OwnEntry = { ...own('elsewhere-1'), n: 2, seq: 3 };
    const [step] = shownSteps(state({ mine: [elsewhere] }), [undo('elsewhere-1')], true);
    expect(step?.sets[0]).toMatchObject({ counted: 8 });
  });

  it('come back when the undo is taken back, and never twice', () => {
    const here = kept({ n: 3 });
    const there = kept({ n: 4 }, { state: 'arrived', seq: 5 });
    for (const [one, with_] of [
      [here, 13],
      [there, 10],
    ] as const) {
      const back = undo(one.id);
      expect(press([one, back])).toMatchObject({ counted: with_ - one.entry.n! });
      expect(press([one, back, undo(back.id)])).toMatchObject({ counted: with_ });
      expect(press([one, back, undo(back.id), undo(back.id)])).toMatchObject({ counted: with_ });
      expect(press([one, back, undo(back.id), undo(one.id)])).toMatchObject({ counted: with_ - one.entry.n! });
    }
    const arrived = { ...undo(there.id), state: 'arrived' as const, seq: 6 };
    expect(press([there, arrived])).toMatchObject({ counted: 10 });
    expect(press([there, arrived, undo(arrived.id)])).toMatchObject({ counted: 14 });
  });

  it('fall on the set they were counted for', () => {
    const steps = shownSteps(state(), [kept({ step: 'mount', set: 2, n: 6 })], true);
    expect(steps[1]?.sets.map((set) => set.left)).toEqual([24, 18, 24]);
  });

  it('make more of the next step ready, by the ratio of the feed', () => {
    const steps = shownSteps(state(), [kept({ n: 5 })], true);
    expect(steps[0]?.readyNow).toBe(15);
    expect(steps[1]?.readyNow).toBe(6);
  });

  it('never fall below nothing nor rise above what is left', () => {
    expect(press([kept({ n: 99 })])).toMatchObject({ left: 0, counted: 109 });
    expect(press([kept({ kind: 'sent-back', n: 99 })])).toMatchObject({ left: 40, counted: 0 });
  });

  it('go back to what was made before when far more than planned is taken back', () => {
    const sets = [{ set: null, total: 40, counted: 110, scrapped: 0, left: 0 }];
    const mount = { ...state().steps[1]!, readyNow: 20 };
    const above = state({ steps: [{ ...STEP, sets, readyNow: 0 }, mount] });
    const far = kept({ n: 100 }, { state: 'arrived', seq: 5 });
    const [press, next] = shownSteps(above, [far, undo(far.id)], true);
    expect(press).toMatchObject({ readyNow: 30, sets: [{ counted: 10, left: 30 }] });
    // With two a unit, those beyond the plan had made nothing ready.
    expect(next).toMatchObject({ readyNow: 5 });
    const bit = kept({ n: 5 }, { state: 'arrived', seq: 5 });
    const [still] = shownSteps(above, [bit, undo(bit.id)], true);
    expect(still?.sets[0]).toMatchObject({ counted: 105, left: 0 });
  });

  it('leave less to order from the tap on, and as much again once it is taken back', () => {
    const open = state({ steps: [{ ...STEP, kind: 'order', toOrder: 16 }] });
    const order = kept({ kind: 'ordered', n: 12 });
    const undo = kept({ kind: 'undo', undoes: order.id });
    const toOrder = (entries: Kept[]) => shownSteps(open, entries, true)[0]?.toOrder;
    expect([toOrder([order]), toOrder([order, undo]), toOrder([kept({ kind: 'ordered', n: 20 })])]).toEqual([4, 16, 0]);
  });

  it('know what was ordered from the tap on, and when it is promised for, oldest first', () => {
    const open = state({ steps: [{ ...STEP, kind: 'order', toOrder: 16, runMinutesPerLot: null }] });
    const order = kept({ kind: 'ordered', n: 12 });
    const until = '2026-12-04T12:00:00.000Z';
    const under = (entries: Kept[]) => shownSteps(open, entries, true)[0]!.underWay;
    expect(under([order])).toMatchObject([{ kind: 'ordered', units: 12, backAt: null, promised: false }]);
    const word = kept({ kind: 'promised', until });
    expect(under([order, word])).toMatchObject([{ backAt: until, promised: true }]);
    expect(under([order, word, undo(word.id)])).toMatchObject([{ backAt: null }]);
    expect(under([order, word, kept({ kind: 'received', n: 12 })])).toEqual([]);
  });

  it('know what was begun and waits in the middle, by its own minutes', () => {
    const soak = state({ steps: [{ ...STEP, runMinutesPerLot: null, machine: null, waitMinutes: 720 }] });
    const [step] = shownSteps(soak, [kept({ kind: 'loaded', n: 4 })], true);
    expect(step?.underWay).toMatchObject([{ units: 4, backAt: '2026-11-25T21:30:00.000Z' }]);
  });

  it('know a load from the tap on, and empty it by what is counted', () => {
    const load = kept({ kind: 'loaded', n: 8 });
    const [, step] = shownSteps(routed(), [load], true);
    expect(step?.underWay).toMatchObject([{ units: 8, backAt: '2026-11-25T11:30:00.000Z' }]);
    const [, after] = shownSteps(routed(), [load, kept({ n: 6 }), kept({ kind: 'scrapped', n: 2 })], true);
    expect(after?.underWay).toEqual([]);
    // What is in the machine is ready for nobody, and is not taken away a second time when it comes out.
    expect([step?.readyNow, after?.readyNow]).toEqual([12, 12]);
  });

  it('leave all that is left to be done now at a step that nothing feeds, whatever is scrapped there or taken back', () => {
    const first = state({ steps: [{ ...STEP, fed: false, readyNow: 30, underWay: [] }] });
    const ready = (entries: Kept[]) => shownSteps(first, entries, true)[0]?.readyNow;
    const scrap = kept({ kind: 'scrapped', n: 20 });
    expect([ready([scrap]), ready([scrap, undo(scrap.id)])]).toEqual([30, 30]);
    const heard = kept({ kind: 'scrapped', n: 20 }, { state: 'arrived', seq: 5 });
    expect(ready([heard, undo(heard.id)])).toBe(30);
    const done = kept({ n: 12 });
    const back = kept({ kind: 'scrapped', n: 2, counted: true });
    expect([ready([done]), ready([done, back]), ready([done, back, undo(back.id)])]).toEqual([18, 20, 18]);
  });

  it('ask the steps before for what was scrapped, and have as many fewer to work on', () => {
    const [cut, press] = shownSteps(routed(), [kept({ kind: 'scrapped', n: 3 })], true);
    expect(cut).toMatchObject({ readyNow: 13, sets: [{ counted: 27, left: 13 }] });
    expect(press).toMatchObject({ readyNow: 17, sets: [{ counted: 10, scrapped: 3, left: 30 }] });
  });

  it('are no longer good where they were scrapped after they had been counted', () => {
    const [cut, press] = shownSteps(routed(), [kept({ kind: 'scrapped', n: 3, counted: true })], true);
    expect(cut).toMatchObject({ readyNow: 13, sets: [{ counted: 27, left: 13 }] });
    expect(press).toMatchObject({ readyNow: 20, sets: [{ counted: 7, scrapped: 3, left: 33 }] });
  });
});

describe('what is laid on tap by tap', () => {
  it('is what is laid on at once: counts, entries and the clock', () => {
    const draw = seeded(7);
    for (let round = 0; round < 25; round++) {
      const overlay = createOverlay();
      const among = randomSteps(draw);
      let now = state({ steps: among });
      let entries: readonly Kept[] = [];
      for (let event = 0; event < 24; event++) {
        ({ now, entries } = happened(draw, among, now, entries));
        const durable = draw() < 0.9;
        expect(overlay(now, entries, durable)).toEqual({
          steps: shownSteps(now, entries, durable),
          mine: myEntries(now, entries),
          running: clockFrom(entries),
        });
      }
    }
  });

  it('moves no step but those that a change reaches, as if each were looked at', () => {
    const draw = seeded(11);
    for (let round = 0; round < 200; round++) {
      const steps = randomSteps(draw);
      const changes = Array.from({ length: 6 }, () => randomChange(draw, steps));
      const after = afterChanges(steps, changes);
      expect(after).toEqual(changes.reduce(lookedAtEach, steps));
      const [first] = changes;
      const once = afterChanges(steps, [first!]);
      for (const [i, step] of lookedAtEach(steps, first!).entries())
        if (JSON.stringify(step) === JSON.stringify(steps[i]) && step.id !== first!.step)
          expect(once[i]).toBe(steps[i]);
    }
  });
});

describe('my entries', () => {
  it('are those of this phone and of others, each once, newest first', () => {
    const here = kept({ n: 3 }, { state: 'arrived', seq: 2 });
    const mine = myEntries(
      state({
        mine: [
          { ...own(here.id), seq: 2 },
          { ...own('elsewhere-1'), at: '2026-11-25T07:00:00Z' },
        ],
      }),
      [here, kept({ kind: 'began' })],
    );
    expect(mine.map((one) => one.id)).toEqual([here.id, 'elsewhere-1']);
  });

  it('say when they have been taken back, and by which undo they can be brought back', () => {
    const here = kept();
    const back = undo(here.id);
    expect(myEntries(state(), [here, back])[0]).toMatchObject({ undone: true, undos: [back.id], undoneBy: null });
    expect(myEntries(state(), [here, back, undo(back.id)])[0]).toMatchObject({ undone: false, undos: [] });
  });

  it('say who else has taken one back', () => {
    const here = kept({}, { state: 'arrived', seq: 2 });
    const theirs: OwnEntry = { ...own('theirs-01'), kind: 'undo', step: null, n: null, undoes: here.id, by: 'maker' };
    expect(myEntries(state({ mine: [theirs] }), [here])[0]).toMatchObject({ undone: true, undoneBy: 'maker' });
  });

  it('that wait come first in the order of tapping, whatever the clock of the phone said', () => {
    const late = kept({ at: '2026-11-25T12:00:00.000Z' });
    const next = kept({ at: '2026-11-25T11:00:00.000Z' });
    const mine = myEntries(state(), [kept({}, { state: 'arrived', seq: 2 }), late, next]);
    expect(mine.slice(0, 2).map(({ id }) => id)).toEqual([next.id, late.id]);
  });
});

describe('questions', () => {
  const doubt: CountDoubt = {
    entry: 'mine-00001',
    other: 'theirs-001',
    kind: 'done',
    step: 'press',
    set: null,
    n: 10,
    question: 'one lot or two?',
    takeBack: { id: 'mine-00001', whose: null },
  };

  it('stay until this phone has answered, whether the answer has arrived or not', () => {
    const asked = state({ doubts: [doubt] });
    expect(openDoubts(asked, [kept()])).toEqual([doubt]);
    expect(openDoubts(asked, [undo('mine-00001')])).toEqual([]);
    expect(openDoubts(asked, [undo('theirs-001')])).toEqual([]);
    expect(openDoubts(asked, [kept({ kind: 'confirmed', confirms: 'mine-00001' })])).toEqual([]);
    const back = undo('mine-00001');
    expect(openDoubts(asked, [back, undo(back.id)])).toEqual([doubt]);
  });

  it('are asked again where the answer was refused', () => {
    const refused = kept({ kind: 'confirmed', confirms: 'mine-00001' }, { state: 'refused' });
    expect(openDoubts(state({ doubts: [doubt] }), [refused])).toEqual([doubt]);
  });
});

describe('the run clock', () => {
  const nowMs = Date.parse('2026-11-25T09:30:00Z');

  it('starts with the first tap and runs on with the next', () => {
    const first = beforeTap(null, STEP, null, nowMs);
    expect(first).toEqual([{ kind: 'began', step: 'press' }]);
    const running = runningClock([kept({ kind: 'began' }), kept({ n: 1 }), kept({ n: 1 })]);
    expect(running).toMatchObject({ step: 'press', units: 2 });
    expect(beforeTap(running, STEP, null, running!.heardAt + 60_000)).toEqual([]);
  });

  it('pauses itself as of the last tap when nothing happens', () => {
    const running = runningClock([kept({ kind: 'began' }), kept()])!;
    expect(duePause(running, running.heardAt + 4 * 60_000, STEP)).toBeNull();
    expect(duePause(running, running.heardAt + 46 * 60_000, STEP)).toEqual({
      kind: 'paused',
      step: 'press',
      phoneMs: running.heardAt,
    });
  });

  it('waits longer for a unit that takes long', () => {
    const running = runningClock([kept({ kind: 'began' }), kept()])!;
    const slow = { ...STEP, handsMinutesPerUnit: 12, lotSize: 1 };
    expect(duePause(running, running.heardAt + 35 * 60_000, slow)).toBeNull();
    expect(duePause(running, running.heardAt + 37 * 60_000, slow)).not.toBeNull();
  });

  it('waits for a long job to be done', () => {
    const running = runningClock([kept({ kind: 'began' })])!;
    const job = { ...STEP, handsMinutesPerUnit: 120, lotSize: 1 };
    expect(duePause(running, running.heardAt + 170 * 60_000, job)).toBeNull();
    expect(duePause(running, running.heardAt + 181 * 60_000, job)).not.toBeNull();
  });

  it('times a lot that takes longer than was thought, counted when it is done', () => {
    const running = runningClock([kept({ kind: 'began' })])!;
    for (const [minutes, lotSize, took] of [
      [3, 12, 39],
      [3, 12, 52],
      [1, 12, 16],
      [10, 24, 300],
    ] as const) {
      const lot = { ...STEP, handsMinutesPerUnit: minutes, lotSize };
      expect(beforeTap(running, lot, null, running.heardAt + took * 60_000), `${lotSize} at ${minutes}`).toEqual([]);
      expect(duePause(running, running.heardAt + took * 60_000, lot)).toBeNull();
    }
  });

  it('pauses where another step is counted', () => {
    const running = runningClock([kept({ kind: 'began' }), kept()])!;
    const drafts = beforeTap(running, { ...STEP, id: 'glue' }, null, nowMs);
    expect(drafts.map(({ kind, step }) => [kind, step])).toEqual([
      ['paused', 'press'],
      ['began', 'glue'],
    ]);
  });

  it('stands still after its pause', () => {
    expect(runningClock([kept({ kind: 'began' }), kept(), kept({ kind: 'paused' })])).toBeNull();
  });
});

/** Something that happens to a phone: a tap or several, an answer, a refusal, or a newer state. */
function happened(draw: () => number, steps: readonly CountStep[], now: CountState, entries: readonly Kept[]) {
  const any = <T>(list: readonly T[]): T => list[Math.floor(draw() * list.length)]!;
  const roll = draw();
  if (roll < 0.6 || entries.length === 0) {
    const taps = Array.from({ length: 1 + Math.floor(draw() * 2) }, () => randomTap(draw, steps, entries, now));
    return { now, entries: [...entries, ...taps] };
  }
  if (roll < 0.85) {
    const seq = 1 + Math.floor(draw() * 20);
    const one = any(entries);
    const to: Kept = draw() < 0.3 ? { ...one, state: 'refused' } : { ...one, state: 'arrived', seq };
    return { now, entries: entries.map((entry) => (entry === one ? to : entry)) };
  }
  const heard = entries.filter(() => draw() < 0.3).map(({ id }) => ({ ...own(id), step: any(steps).id, seq: 3 }));
  const theirs =
    draw() < 0.5 ? [{ ...own(`theirs-${draw()}`), undoes: any(entries).id, kind: 'undo' as const, by: 'x' }] : [];
  return { now: { ...now, logSeq: Math.floor(draw() * 20), mine: [...heard, ...theirs] }, entries };
}

const TAPS = ['done', 'scrapped', 'sent-back', 'loaded', 'ordered', 'received', 'promised', 'began', 'paused'] as const;

function randomTap(draw: () => number, steps: readonly CountStep[], entries: readonly Kept[], now: CountState): Kept {
  const all = [...entries.map(({ id }) => id), ...now.mine.map(({ id }) => id)];
  if (all.length > 0 && draw() < 0.15) return undo(all[Math.floor(draw() * all.length)]!);
  const { step, kind, set, n, counted, until } = randomChange(draw, steps);
  const at = new Date(Date.parse('2026-11-25T09:00:00Z') + Math.floor(draw() * 3600) * 1000).toISOString();
  const said = {
    ...(set === null ? {} : { set }),
    ...(counted ? { counted } : {}),
    ...(until === null ? {} : { until }),
  };
  return kept({ step, kind, n, at, ...said });
}

function randomChange(draw: () => number, steps: readonly CountStep[]): Change {
  const at = Math.floor(draw() * steps.length);
  const kind = TAPS[Math.floor(draw() * TAPS.length)]!;
  const sets = steps[at]!.sets;
  number += 1;
  return {
    kind,
    step: steps[at]!.id,
    set: draw() < 0.3 ? null : sets[Math.floor(draw() * sets.length)]!.set,
    n: 1 + Math.floor(draw() * 12),
    counted: kind === 'scrapped' ? draw() < 0.5 : null,
    until: kind === 'promised' ? '2026-12-04T12:00:00.000Z' : null,
    sign: draw() < 0.7 ? 1 : -1,
    entry: `change-${number}`,
    atMs: Date.parse('2026-11-25T09:30:00Z'),
  };
}

/** Steps of some parts, in sets or not, that feed some of the later ones. */
function randomSteps(draw: () => number): CountStep[] {
  const count = 3 + Math.floor(draw() * 8);
  const steps = Array.from({ length: count }, (_, i): CountStep => {
    const ids = draw() < 0.4 ? [1, 2, 3] : [null];
    const sets = ids.map((set) => {
      const [total, counted] = [10 + Math.floor(draw() * 30), Math.floor(draw() * 20)];
      return { set, total, counted, scrapped: Math.floor(draw() * 3), left: Math.max(0, total - counted) };
    });
    const feeds = Array.from({ length: Math.floor(draw() * 3) }, () => ({
      step: `step-${Math.floor(draw() * count)}`,
      ratio: Math.floor(draw() * 4),
    }));
    const part = draw() < 0.2 ? null : `part-${Math.floor(draw() * 3)}`;
    const readyNow = draw() < 0.2 ? null : Math.floor(draw() * 15);
    return { ...STEP, id: `step-${i}`, part, sets, feeds, readyNow, toOrder: Math.floor(draw() * 20) };
  });
  return steps.map((step) => ({
    ...step,
    fed: steps.some(({ feeds }) => feeds.some((feed) => feed.step === step.id)),
  }));
}

/** The steps after a change, every one of them looked at: of the numbers that it moves, by what they mean. */
function lookedAtEach(steps: readonly CountStep[], change: Change): readonly CountStep[] {
  const own = steps.find(({ id }) => id === change.step)!;
  // What becomes of the step itself, and of each on its route, is read from builds where it feeds nothing.
  const alone = steps.map((step) => ({ ...step, feeds: [] }));
  const moved = afterChanges(alone, [change]).map((step, i) => ({ ...step, feeds: steps[i]!.feeds, readyNow: null }));
  return steps.map((before, i) => {
    const after = { ...moved[i]!, readyNow: before.readyNow };
    const isMoved = before.id === own.id || JSON.stringify(before) !== JSON.stringify(after);
    if (before.readyNow === null) return after;
    const most = Math.max(0, unitsOf(after.sets, 'left') - unitsOf(after.underWay, 'units'));
    if (!before.fed) return isMoved ? { ...after, readyNow: most } : before;
    const used = (one: CountStep): number => doneIn(one) + unitsOf(one.underWay, 'units');
    let more = used(before) - used(after);
    for (const [f, feeder] of steps.entries()) {
      const feed = feeder.feeds.find(({ step }) => step === before.id);
      if (feed === undefined || feed.ratio <= 0) continue;
      more += Math.floor(doneIn(moved[f]!) / feed.ratio) - Math.floor(doneIn(feeder) / feed.ratio);
    }
    const isSame = used(before) === used(after) && more === 0;
    return isSame ? after : { ...after, readyNow: Math.max(0, Math.min(most, before.readyNow + more)) };
  });
}

function doneIn({ sets }: CountStep): number {
  return sets.reduce((sum, { counted, total }) => sum + Math.min(counted, total), 0);
}

function unitsOf<K extends string>(list: readonly Readonly<Record<K, number>>[], what: K): number {
  return list.reduce((sum, one) => sum + one[what], 0);
}

/** The clock that all entries together leave on. */
function clockFrom(entries: readonly Kept[]) {
  const heard = entries.filter(({ state }) => state !== 'refused');
  const clocks = runningClocks(heard.map(({ entry, phoneMs }) => ({ ...entry, person: undefined, at: phoneMs })));
  return clocks.values().next().value ?? null;
}

const STEP: CountStep = {
  id: 'press',
  name: 'press bushings',
  kind: 'step',
  part: 'fish',
  unit: 'fish',
  sets: [{ set: null, total: 40, counted: 10, scrapped: 0, left: 30 }],
  lotSize: 1,
  handsMinutesPerUnit: 1,
  runMinutesPerLot: 120,
  waitMinutes: null,
  parts: [],
  machine: 'printer',
  machineName: 'printer',
  fed: true,
  readyNow: 20,
  waitsFor: null,
  underWay: [],
  toOrder: 0,
  packs: null,
  feeds: [{ step: 'mount', ratio: 2 }],
  sendsBack: [],
};

function state(changes: Partial<CountState> = {}): CountState {
  const sets = [1, 2, 3].map((set) => ({ set, total: 24, counted: 0, scrapped: 0, left: 24 }));
  const mount: CountStep = { ...STEP, id: 'mount', name: 'mount fish', part: 'panel', sets, readyNow: 4, feeds: [] };
  return {
    build: 'wall',
    zone: 'UTC',
    revision: 1,
    logSeq: 7,
    who: 'Ana',
    setName: 'panel',
    people: [],
    machines: [],
    steps: [STEP, mount],
    mine: [],
    doubts: [],
    ...changes,
  };
}

/** The step that is pressed, with the one before it on its route: 30 of 40 are cut, 10 pressed. */
function routed(): CountState {
  const sets = [{ set: null, total: 40, counted: 30, scrapped: 0, left: 10 }];
  const feeds = [{ step: 'press', ratio: 1 }];
  return state({ steps: [{ ...STEP, id: 'cut', fed: false, readyNow: 10, sets, feeds }, STEP] });
}

function press(entries: readonly Kept[], durable = true) {
  return shownSteps(state(), entries, durable)[0]!.sets[0]!;
}

function runningClock(entries: readonly Kept[]) {
  return createRunningClock()(entries);
}

let number = 0;

function kept(entry: Partial<WireEntry> = {}, changes: Partial<Kept> = {}): Kept {
  number += 1;
  const id = `entry-${number}`;
  const at = '2026-11-25T09:30:00.000Z';
  return {
    number,
    id,
    build: 'wall',
    entry: { id, kind: 'done', step: 'press', n: 1, at, phoneAt: at, ...entry },
    phoneMs: Date.parse(at),
    read: { wallMs: Date.parse(at), steadyMs: 0, page: 'here' },
    shiftMs: null,
    frozen: false,
    state: 'waiting',
    seq: null,
    reasons: [],
    settled: false,
    ...changes,
  };
}

function undo(undoes: string): Kept {
  const { entry, ...rest } = kept();
  return { ...rest, entry: { id: entry.id, kind: 'undo', at: entry.at, undoes } };
}

function own(id: string): OwnEntry {
  return {
    id,
    kind: 'done',
    at: '2026-11-25T08:00:00Z',
    step: 'press',
    set: null,
    n: 1,
    counted: null,
    until: null,
    undoes: null,
    by: null,
    seq: 1,
  };
}
