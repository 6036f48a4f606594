import { describe, expect, it } from 'vitest';
import { beforeTap, duePause, runningClock } from '../../../../views/client/count/count-clock.ts';
import { afterTap, myEntries, openDoubts, shownSteps } from '../../../../views/client/count/count-overlay.ts';
import type {
  CountDoubt,
  CountState,
  CountStep,
  OwnEntry,
  WireEntry,
} from '../../../../views/client/outbox/count-wire.ts';
import type { Kept } from '../../../../views/client/outbox/outbox-shelf.ts';

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

  it('are painted after a tap exactly as they are worked out behind it', () => {
    const before = [kept({ n: 3 }), kept({ kind: 'loaded', n: 4 })];
    const taps = [
      kept({ n: 2 }),
      kept({ kind: 'scrapped', n: 1, counted: true }),
      kept({ kind: 'scrapped', n: 1, counted: false }),
      kept({ kind: 'sent-back', n: 2 }),
      kept({ step: 'mount', set: 2, n: 4 }),
    ];
    for (const tap of taps)
      expect(afterTap(shownSteps(routed(), before, true), [tap])).toEqual(shownSteps(routed(), [...before, tap], true));
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
