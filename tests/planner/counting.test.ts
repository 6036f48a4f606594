import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Build, NewLogEntry } from '../../server/model/index.ts';
import { lantern, openStore, SAVED } from '../store/helpers.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { bench, NOON, noonTap, words } from './helpers.ts';

/** A lantern with two frames, a printer, a bought part, a gate and an order of its own. */
const RICH: Build = lantern({
  sets: { count: 2, name: 'frame' },
  parts: [
    { id: 'ribs', name: 'ribs', source: 'make', count: 40 },
    { id: 'screw', name: 'screws', source: 'buy', count: 80 },
  ],
  machines: [
    { id: 'printer', name: 'printer' },
    { id: 'saw', name: 'saw' },
  ],
  suppliers: [{ id: 'mill', name: 'mill', lead: 3 }],
  steps: [
    { id: 'cut', name: 'cut ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 4 }] },
    { id: 'print', name: 'print caps', phases: [{ kind: 'run', machine: 'printer', minutes: 60 }] },
    { id: 'mill', name: 'mill frames', perSet: true, phases: [{ kind: 'lead', supplier: 'mill' }] },
  ],
  gates: [{ id: 'look', name: 'look at it', after: ['cut'], minutes: 10 }],
});

async function answer(entry: NewLogEntry, who = 'maker', build = RICH) {
  return (await bench({}, build)).planner.append(build.id, [entry], who)[0]!;
}

describe('what an entry may say', () => {
  it('of lost time is one person or one machine, and of a machine as many as there are', async () => {
    const { planner } = await bench();
    const lost = (more: Partial<NewLogEntry>) => {
      const entry = noonTap({ kind: 'lost', until: '2026-11-30T14:00:00Z', ...more });
      const { step: _, n: __, ...bare } = entry;
      return planner.append('lantern', [more.n === undefined ? bare : { ...bare, n: more.n }], 'maker')[0]!;
    };
    expect(lost({}).state).toBe('stored');
    expect(lost({ n: 1 }).problems.map(({ message }) => message)).toEqual([
      'Only machines can be out of order in part; leave "n" out.',
    ]);
    expect(lost({ machine: 'laser' }).problems[0]?.message).toMatch(/no machine "laser" in this build/);
  });

  it('of units that were counted before is for scrap alone', async () => {
    const { planner } = await bench();
    const [scrap, done] = [noonTap({ kind: 'scrapped', counted: true }), noonTap({ counted: true })];
    expect(planner.append('lantern', [scrap, done], 'maker').map(({ state }) => state)).toEqual(['stored', 'refused']);
  });
});

describe('an entry that fits', () => {
  it.each([
    ['done', noonTap({ n: 12 })],
    ['scrapped', noonTap({ kind: 'scrapped', n: 1, reason: 'split' })],
    ['loaded', noonTap({ kind: 'loaded', step: 'print', n: 8, machine: 'printer' })],
    ['ordered by a step', noonTap({ kind: 'ordered', step: 'mill', set: 2, n: 1 })],
    ['received by a part', noonTap({ kind: 'received', step: 'order-screw', n: 100 })],
    ['promised', noonTap({ kind: 'promised', step: 'mill', set: 1, until: '2026-12-04T12:00:00Z' })],
    ['passed', { ...noonTap({ kind: 'passed', step: 'look' }), n: 1 }],
    ['lost', { id: 'lost-0001', kind: 'lost', at: '2026-11-30T09:00:00Z', until: '2026-11-30T11:00:00Z' } as const],
    ['ten minutes ahead', noonTap({ at: '2026-11-30T12:10:00Z' })],
    ['of whichever set', noonTap({ kind: 'received', step: 'mill', n: 1 })],
    ['of last year', noonTap({ at: '2025-11-30T12:10:00Z' })],
  ])('is stored: %s', async (_, entry) => {
    expect(await answer(entry)).toMatchObject({ id: entry.id, state: 'stored', seq: 1, problems: [], questions: [] });
  });
});

describe('an entry that does not fit', () => {
  it.each<[string, Partial<NewLogEntry>, RegExp]>([
    ['names no step of this build', { step: 'sand' }, /^entry\.step: There is no step or gate "sand"/],
    ['lies in the future', { at: '2026-11-30T12:11:00Z' }, /^entry\.at: .*still to come/],
    ['is more than 400 days old', { at: '2025-10-25T12:00:00Z' }, /^entry\.at: .*400 days/],
    ['has a day that no calendar has', { at: '2026-02-30T12:00:00Z' }, /^entry\.at: .*28 days/],
    ['has no count where one is needed', { n: undefined as never }, /^entry\.n: .*needs "n"/],
    ['has half a unit', { n: 0.5 }, /whole number; it is 0\.5/],
    ['has a negative count', { n: -3 }, /at least 1; it is -3/],
    ['is of an unknown kind', { kind: 'eaten' as never }, /^entry\.kind: /],
    ['passes what is no gate', { kind: 'passed' }, /only a gate/],
    ['counts units at a gate', { step: 'look' }, /a gate is passed or failed/],
    ['loads where no machine runs', { kind: 'loaded' }, /no machine runs there/],
    ['loads a machine of another step', { kind: 'loaded', step: 'print', machine: 'saw' }, /it runs on printer/],
    ['names an unknown machine', { kind: 'loaded', step: 'print', machine: 'lathe' }, /printer, saw/],
    ['names an unknown person', { kind: 'lost', person: 'zoe', until: '2026-11-30T13:00:00Z' }, /person "zoe"/],
    ['orders where nothing is ordered', { kind: 'ordered' }, /nothing is ordered there/],
    ['is done at an order', { step: 'order-screw' }, /what is ordered is received/],
    ['promises no instant', { kind: 'promised', step: 'mill', set: 1 }, /needs "until"/],
    ['ends before it began', { kind: 'lost', until: '2026-11-30T11:00:00Z' }, /is before the entry/],
    ['names a set that is not there', { step: 'mill', kind: 'received', set: 3 }, /numbered 1 to 2/],
    ['takes back nothing', { kind: 'undo' }, /needs "undoes"/],
    ['takes back an unknown entry', { kind: 'undo', undoes: 'never-made-01' }, /no entry "never-made-01"/],
    [
      'is of an unknown kind',
      { kind: 'eaten' } as never,
      /"entry.kind" must be one of done, .*confirmed; it is "eaten"/,
    ],
    ['is of a step of another build', { step: 'sail' }, /no step or gate "sail".*\(there: cut, print, mill, look\)/],
    ['has a megabyte of note', { note: 'x'.repeat(1_000_000) }, /^entry\.note: /],
    ['has a key that is not known', { colour: 'blue' } as never, /"colour"/],
  ])('is refused in words and changes nothing: it %s', async (_, changes, said) => {
    const { planner } = await bench({}, RICH);
    const entry = JSON.parse(JSON.stringify(noonTap(changes))) as NewLogEntry;
    const [receipt] = planner.append('lantern', [entry], 'maker');
    expect(receipt).toMatchObject({ id: entry.id, state: 'refused', seq: null });
    expect(words(receipt!)).toMatch(said);
    expect(planner.log('lantern')).toEqual([]);
  });

  it('says of a step that is gone when it was last there', async () => {
    const { planner } = await bench();
    await editBy(planner, 'lantern', (build) => {
      build.steps = build.steps.filter((step) => step.id !== 'glue');
    });
    expect(words(planner.append('lantern', [noonTap({ step: 'glue' })], 'maker')[0]!)).toMatch(
      /"glue" is gone.*edit 1/,
    );
  });

  it('keeps out neither those before it nor those after it', async () => {
    const { planner } = await bench();
    const receipts = planner.append('lantern', [noonTap(), noonTap({ step: 'sand' }), noonTap()], 'maker');
    expect(receipts.map((r) => r.state)).toEqual(['stored', 'refused', 'stored']);
    expect(planner.log('lantern').map((e) => e.seq)).toEqual([1, 2]);
  });

  it('is refused for a build that is not there, and for things that are no entries', async () => {
    const { planner } = await bench();
    expect(words(planner.append('arch', [noonTap()], 'maker')[0]!)).toMatch(/no build "arch"/);
    const junk = [null, 7, 'tap', [], { id: 12 }] as unknown as NewLogEntry[];
    expect(planner.append('lantern', junk, 'maker').map((r) => r.state)).toEqual(Array(5).fill('refused'));
  });
});

describe('sending twice', () => {
  it('counts once, even when the step is gone or the entry too old by then', async () => {
    const { planner, clock } = await bench();
    const entry = noonTap({ step: 'glue', n: 4 });
    expect(planner.append('lantern', [entry], 'Ana')[0]).toMatchObject({ state: 'stored', seq: 1 });
    await editBy(planner, 'lantern', (build) => void build.steps.pop());
    clock.now += 500 * 1440;
    expect(planner.append('lantern', [entry], 'Ana')[0]).toMatchObject({ state: 'known', seq: 1, problems: [] });
    expect(planner.log('lantern')).toHaveLength(1);
  });

  it('is refused with the other entry named when the content differs', async () => {
    const { planner } = await bench();
    const entry = noonTap({ n: 4 });
    planner.append('lantern', [entry], 'Ana');
    const [receipt] = planner.append('lantern', [{ ...entry, n: 5 }], 'Ana');
    expect(receipt!.state).toBe('refused');
    expect(words(receipt!)).toMatch(/entry\.id: .*4 done at cut/);
    expect(planner.log('lantern').map((e) => e.n)).toEqual([4]);
  });
});

describe('who counts', () => {
  it('is the name that a helper joined with, whatever the entry says', async () => {
    const { planner } = await bench();
    planner.append('lantern', [noonTap({ who: 'somebody else' })], 'Ana');
    planner.append('lantern', [noonTap({ who: 'Bo' }), noonTap()], 'maker');
    expect(planner.log('lantern').map((e) => e.who)).toEqual(['Ana', 'Bo', 'maker']);
  });

  it('may take back their own entries, the maker anybody’s', async () => {
    const { planner } = await bench();
    const [mine, yours] = [noonTap(), noonTap({ n: 2 })];
    planner.append('lantern', [mine], 'Ana');
    planner.append('lantern', [yours], 'Bo');
    const undo = (of: NewLogEntry, who: string) =>
      planner.append('lantern', [{ id: noonTap().id, kind: 'undo', undoes: of.id, at: mine.at }], who)[0]!;
    expect(undo(mine, 'Ana').state).toBe('stored');
    expect(words(undo(yours, 'Ana'))).toMatch(/Bo's; only Bo or the maker/);
    expect(undo(yours, 'maker').state).toBe('stored');
  });

  it('may take back an entry sent in the same request, and take the undo back', async () => {
    const { planner } = await bench();
    const first = noonTap();
    const undo: NewLogEntry = { id: 'undo-00000001', kind: 'undo', undoes: first.id, at: first.at };
    const redo: NewLogEntry = { id: 'undo-00000002', kind: 'undo', undoes: undo.id, at: first.at };
    expect(planner.append('lantern', [first, undo, redo], 'Ana').map((r) => r.state)).toEqual([
      'stored',
      'stored',
      'stored',
    ]);
  });
});

describe('doubts', () => {
  it('are asked about a count above what is left, and it is stored', async () => {
    const { planner } = await bench();
    planner.append('lantern', [noonTap({ n: 30 })], 'maker');
    const [fits, over] = planner.append('lantern', [noonTap({ n: 8 }), noonTap({ n: 5 })], 'maker');
    expect(fits).toMatchObject({ state: 'stored', questions: [] });
    expect(over).toMatchObject({ state: 'stored' });
    expect(over!.questions[0]!.message).toMatch(/"cut ribs" has 2 left and this entry says 5/);
  });

  it('are asked about more scrapped or sent back than was counted, and it is stored', async () => {
    const { planner } = await bench();
    const asked = (entry: NewLogEntry) => planner.append('lantern', [entry], 'Ana')[0]!;
    const early = asked(noonTap({ kind: 'scrapped', n: 3, counted: true }));
    expect(early).toMatchObject({ state: 'stored' });
    expect(early.questions[0]!.message).toMatch(/"cut ribs" has 0 counted as done and this entry takes 3 of them back/);
    planner.append('lantern', [{ id: 'undo-00000001', kind: 'undo', undoes: early.id, at: noonTap().at }], 'Ana');
    const counted = [asked(noonTap({ n: 6 })), asked(noonTap({ kind: 'scrapped', n: 2, counted: true }))];
    expect(counted.map(({ questions }) => questions)).toEqual([[], []]);
    expect(asked(noonTap({ kind: 'scrapped', n: 9 })).questions).toEqual([]);
    expect(asked(noonTap({ kind: 'sent-back', n: 5 })).questions[0]!.message).toMatch(/has 4 counted as done/);
  });

  it('are asked once while taps go on above what is left', async () => {
    const { planner } = await bench();
    planner.append('lantern', [noonTap({ n: 40 })], 'Ana');
    const over = planner.append('lantern', [noonTap(), noonTap()], 'Ana');
    const more = planner.append('lantern', [noonTap()], 'Ana');
    expect([...over, ...more].map((receipt) => receipt.questions.length)).toEqual([1, 0, 0]);
  });

  it('are not asked again once somebody has said that they are there, unless something is new', async () => {
    const { planner } = await bench();
    const asks = (entry: NewLogEntry, who = 'Ana'): number =>
      planner.append('lantern', [entry], who)[0]!.questions.length;
    const over = noonTap();
    expect([asks(noonTap({ n: 40 })), asks(over)]).toEqual([0, 1]);
    const right: NewLogEntry = { id: 'answer-0001', kind: 'confirmed', confirms: over.id, at: over.at };
    planner.append('lantern', [right], 'Bo');
    expect([asks(noonTap()), asks(noonTap()), asks(noonTap(), 'Bo')]).toEqual([0, 0, 0]);
    // More at once than was said to be right may be a slip again.
    const lot = noonTap({ n: 12 });
    expect(asks(lot)).toBe(1);
    planner.append('lantern', [{ ...right, id: 'answer-0002', confirms: lot.id }], 'Ana');
    expect(asks(noonTap({ n: 2 }))).toBe(0);
    // The plan asks for more: what was above is not any more, and the next that is above is new.
    await editBy(planner, 'lantern', (build) => {
      build.parts![0]!.count = 60;
    });
    expect([asks(noonTap({ n: 2 })), asks(noonTap())]).toEqual([0, 1]);
  });

  it('are asked again when the answer, or what it was about, is taken back', async () => {
    const { planner } = await bench();
    const [over, more] = [noonTap(), noonTap()];
    planner.append('lantern', [noonTap({ n: 40 }), over], 'Ana');
    const right: NewLogEntry = { id: 'answer-0001', kind: 'confirmed', confirms: over.id, at: over.at };
    const undo: NewLogEntry = { id: 'undo-00000001', kind: 'undo', undoes: over.id, at: over.at };
    planner.append('lantern', [right, undo], 'Ana');
    expect(planner.append('lantern', [more], 'Ana')[0]!.questions).toHaveLength(1);
  });

  it('know that an undo gives back what the forecast has counted', async () => {
    const { planner } = await bench();
    const last = noonTap({ n: 40 });
    planner.append('lantern', [last], 'Ana');
    await planner.settled();
    planner.append('lantern', [{ id: 'undo-00000001', kind: 'undo', undoes: last.id, at: last.at }], 'Ana');
    expect(planner.append('lantern', [noonTap({ n: 40 })], 'Ana')[0]!.questions).toEqual([]);
  });

  it('are not raised by taking back what was brought back before', async () => {
    const { planner } = await bench();
    const tapped = noonTap();
    const undo = (id: string, undoes: string): NewLogEntry => ({ id, kind: 'undo', undoes, at: tapped.at });
    const receipts = planner.append(
      'lantern',
      [
        tapped,
        undo('undo-00000001', tapped.id),
        undo('undo-00000002', 'undo-00000001'),
        undo('undo-00000003', tapped.id),
      ],
      'Ana',
    );
    expect(receipts.flatMap(({ questions }) => questions)).toEqual([]);
  });

  it('count what was taken back as left again', async () => {
    const { planner } = await bench();
    const slip = noonTap({ n: 40 });
    planner.append('lantern', [slip, { id: 'undo-00000001', kind: 'undo', undoes: slip.id, at: slip.at }], 'maker');
    expect(planner.append('lantern', [noonTap({ n: 40 })], 'maker')[0]!.questions).toEqual([]);
  });

  it('are asked once when two people log the same ten within a minute', async () => {
    const { planner } = await bench();
    const at = (time: string) => ({ n: 10, at: `2026-11-30T${time}Z` });
    expect(planner.append('lantern', [noonTap(at('11:00:30'))], 'Ana')[0]!.questions).toEqual([]);
    const [second] = planner.append('lantern', [noonTap(at('11:01:30'))], 'Bo');
    expect(second!.questions.map(({ message }) => message)).toEqual([
      'Ana and Bo both logged 10 done at "cut ribs" within a minute: one lot or two?',
    ]);
    expect(planner.append('lantern', [noonTap(at('11:02:31'))], 'Cy')[0]!.questions).toEqual([]);
    expect(planner.log('lantern')).toHaveLength(3);
  });

  it('are found though a phone brings its lot hours later, behind hundreds of others', async () => {
    const { planner } = await bench();
    const at = '2026-11-30T11:00:00Z';
    planner.append('lantern', [noonTap({ n: 10, at })], 'Ana');
    planner.append(
      'lantern',
      Array.from({ length: 300 }, () => noonTap({ step: 'glue' })),
      'Cy',
    );
    expect(planner.append('lantern', [noonTap({ n: 10, at })], 'Bo')[0]!.questions).toHaveLength(1);
  });

  it('are asked again with a second sending, until somebody has answered', async () => {
    const { planner } = await bench();
    const [one, two] = [noonTap({ n: 10 }), noonTap({ n: 10 })];
    planner.append('lantern', [one], 'Ana');
    const first = planner.append('lantern', [two], 'Bo')[0]!;
    expect(planner.append('lantern', [two], 'Bo')[0]).toEqual({ ...first, state: 'known' });
    expect(planner.doubts('lantern')).toMatchObject([{ entry: { id: two.id }, other: { id: one.id } }]);
    const answer: NewLogEntry = { id: 'answer-0001', kind: 'confirmed', confirms: two.id, at: two.at };
    expect(planner.append('lantern', [answer], 'Ana')[0]!.state).toBe('stored');
    expect(planner.doubts('lantern')).toEqual([]);
    expect(planner.append('lantern', [two], 'Bo')[0]!.questions).toEqual([]);
  });

  it('are over when one of the two is taken back, and open again when that is undone', async () => {
    const { planner } = await bench();
    const [one, two] = [noonTap({ n: 10 }), noonTap({ n: 10 })];
    planner.append('lantern', [one], 'Ana');
    planner.append('lantern', [two], 'Bo');
    const undo: NewLogEntry = { id: 'undo-00000001', kind: 'undo', undoes: one.id, at: one.at };
    planner.append('lantern', [undo], 'Ana');
    expect(planner.doubts('lantern')).toEqual([]);
    planner.append('lantern', [{ ...undo, id: 'undo-00000002', undoes: undo.id }], 'Ana');
    expect(planner.doubts('lantern')).toHaveLength(1);
  });

  it('do not arise between two people who tap one at a time side by side', async () => {
    const { planner } = await bench();
    planner.append('lantern', [noonTap()], 'Ana');
    expect(planner.append('lantern', [noonTap()], 'Bo')[0]!.questions).toEqual([]);
  });

  it('say that an entry had been taken back before, and it counts once', async () => {
    const { planner } = await bench();
    const first = noonTap({ n: 2 });
    const undo = (id: string): NewLogEntry => ({ id, kind: 'undo', undoes: first.id, at: first.at });
    planner.append('lantern', [first, undo('undo-00000001')], 'Ana');
    const [again] = planner.append('lantern', [undo('undo-00000002')], 'maker');
    expect(again).toMatchObject({
      state: 'stored',
      questions: [{ message: expect.stringMatching(/^Ana had taken that entry back before/) }],
    });
  });

  it('do not arise when one person logs the same twice', async () => {
    const { planner } = await bench();
    const receipts = planner.append('lantern', [noonTap({ n: 10 }), noonTap({ n: 10 })], 'Ana');
    expect(receipts.flatMap((r) => r.questions)).toEqual([]);
  });
});

/** A planner with the lantern, and how often it has committed since. */
async function countedCommits() {
  const store = openStore();
  let commits = 0;
  const together = <T>(work: () => T): T => {
    commits += 1;
    return store.together(work);
  };
  const { planner } = await bench({ store: { ...store, together } });
  commits = 0;
  return { planner, commits: () => commits };
}

/** No turn takes too long, however busy the machine: what takes longer is stored in several commits. */
function holdClock(): void {
  vi.spyOn(performance, 'now').mockReturnValue(0);
}

describe('what an answer waits for', () => {
  afterEach(() => void vi.restoreAllMocks());

  it('is the disk, not the new forecast', async () => {
    const { planner, computed, heard } = await bench();
    planner.append('lantern', [noonTap()], 'maker');
    expect(computed.count).toBe(0);
    expect(heard).toEqual(['lantern ground']);
    expect(planner.latest('lantern')?.stale).toBe(true);
  });

  it('is not a forecast that fails', async () => {
    const { store } = await bench();
    const failing = await bench({
      store,
      computeForecast: () => {
        throw new Error('bug');
      },
    });
    const { key } = store.builds.ground('lantern')!;
    store.builds.save(key, lantern({ name: 'Lampion' }), SAVED);
    expect((await failing.planner.appendSoon('lantern', [noonTap()], 'maker'))[0]!.state).toBe('stored');
    expect(String(failing.errors[0])).toBe('Error: bug');
  });

  it('is the forecast of an edit once, where that does not come, and not anew for each count', async () => {
    const { store } = await bench();
    const never = await bench({ store, search: () => new Promise(() => {}) });
    const { key } = store.builds.ground('lantern')!;
    store.builds.save(key, lantern({ name: 'Lampion' }), SAVED);
    let waited = 0;
    const count = async () => {
      const timer = setInterval(() => (waited += 1), 100);
      const [receipt] = await never.planner.appendSoon('lantern', [noonTap()], 'maker');
      clearInterval(timer);
      return receipt!.state;
    };
    expect(await count()).toBe('stored');
    expect(waited).toBeGreaterThan(5);
    waited = 0;
    for (let n = 0; n < 5; n++) expect(await count()).toBe('stored');
    expect(waited).toBe(0);
  });

  it('is no more than four looks at which state the build is in', async () => {
    const store = openStore();
    let looks = 0;
    const ground = (id: string) => {
      looks += 1;
      return store.builds.ground(id);
    };
    const { planner } = await bench({ store: { ...store, builds: { ...store.builds, ground } } });
    await planner.appendSoon('lantern', [noonTap()], 'Ana');
    await planner.settled();
    looks = 0;
    await planner.appendSoon('lantern', [noonTap()], 'Ana');
    expect(looks).toBeLessThanOrEqual(4);
  });

  it('is one commit for requests that arrive together', async () => {
    holdClock();
    const { planner, commits } = await countedCommits();
    const requests = Array.from({ length: 8 }, () => planner.appendSoon('lantern', [noonTap()], 'Ana'));
    const receipts = (await Promise.all(requests)).flat();
    expect(receipts.map((r) => r.seq)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(commits()).toBe(1);
  });

  it('is the same commit for those that come while others are read, and none of its own for one alone', async () => {
    holdClock();
    const { planner, commits } = await countedCommits();
    const soon = () => planner.appendSoon('lantern', [noonTap()], 'Ana');
    const turn = () => new Promise((resolve) => setImmediate(resolve));
    const [first, second] = [soon(), soon()];
    await turn();
    await Promise.all([first, second, soon()]);
    expect(commits()).toBe(1);
    const alone = soon();
    await turn();
    expect(commits()).toBe(2);
    await alone;
  });

  it('is not what another request in the same commit does wrong', async () => {
    const store = openStore();
    const { planner } = await bench({ store });
    const bad = noonTap({ note: 'does not fit on the disk' });
    const append = store.log.append;
    const brittle = {
      ...store,
      log: {
        ...store.log,
        append: (...args: Parameters<typeof append>) => {
          if (args[1].some((e) => e.id === bad.id)) throw new Error('disk full');
          return append(...args);
        },
      },
    };
    const other = (await bench({ store: brittle })).planner;
    const [first, second, third] = await Promise.allSettled([
      other.appendSoon('lantern', [noonTap()], 'Ana'),
      other.appendSoon('lantern', [bad], 'Bo'),
      other.appendSoon('lantern', [noonTap({ n: 2 })], 'Cy'),
    ]);
    expect([first!.status, second!.status, third!.status]).toEqual(['fulfilled', 'rejected', 'fulfilled']);
    expect(planner.log('lantern').map((e) => e.who)).toEqual(['Ana', 'Cy']);
    expect(other.log('lantern')).toEqual(planner.log('lantern'));
  });
});

it('has its noon where the entries have theirs', async () => {
  expect(Date.UTC(2026, 10, 30, 12) / 60_000).toBe(NOON);
});
