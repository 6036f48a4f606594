import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ClockEntry,
  effectOf,
  LOG_KINDS,
  type LogKind,
  rootOf,
  runningClocks,
  standingAmong,
  standingEntries,
  type Undoing,
  unitsWorked,
} from '../../server/model/log/index.ts';

describe('an entry', () => {
  const undo = (id: string, undoes: string): Undoing => ({ id, kind: 'undo', undoes });
  const count: Undoing = { id: 'a', kind: 'done' };

  it('falls by an undo, and comes back when that is taken back, however often', () => {
    const stands = (...undos: Undoing[]) => standingAmong([count, ...undos]).stands('a');
    expect(stands()).toBe(true);
    expect(stands(undo('b', 'a'))).toBe(false);
    expect(stands(undo('b', 'a'), undo('c', 'b'))).toBe(true);
    expect(stands(undo('b', 'a'), undo('c', 'b'), undo('d', 'a'))).toBe(false);
    expect(stands(undo('b', 'a'), undo('c', 'b'), undo('d', 'c'))).toBe(false);
  });

  it('names the undos that keep it from standing', () => {
    const log = [count, undo('b', 'a'), undo('c', 'a'), undo('d', 'b')];
    expect(standingAmong(log).undosOf('a')).toEqual([undo('c', 'a')]);
  });

  it('stands once where its id is sent twice', () => {
    expect(standingEntries([count, count, undo('b', 'x')])).toEqual([count]);
  });

  it('is found at the end of a chain of undos', () => {
    const log = new Map([count, undo('b', 'a'), undo('c', 'b')].map((entry) => [entry.id, entry]));
    expect(rootOf(log.get('c')!, (id) => log.get(id))).toBe(count);
    expect(rootOf(undo('x', 'gone'), () => undefined)).toMatchObject({ id: 'x' });
  });

  it('ends in a circle of undos, and in a chain as long as the log', () => {
    expect(standingAmong([undo('b', 'c'), undo('c', 'b')]).stands('b')).toBeTypeOf('boolean');
    const chain = Array.from({ length: 50_000 }, (_, i) => undo(`u${i + 1}`, i === 0 ? 'a' : `u${i}`));
    expect(standingAmong(chain).stands('a')).toBe(true);
    expect(standingAmong(chain.slice(1)).stands('u1')).toBe(false);
  });

  it('stands exactly where replaying the undos from the last to the first leaves it, in whatever order they are read', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(), { maxLength: 30 }), fc.nat(), (picks, turn) => {
        const log = picks.map(
          (pick, i): Undoing => ({
            id: `e${i}`,
            kind: i === 0 || pick % 3 === 0 ? 'done' : 'undo',
            ...(i > 0 && pick % 3 !== 0 ? { undoes: `e${pick % i}` } : {}),
          }),
        );
        const gone = new Set<string>();
        for (const { id, kind, undoes } of log.toReversed()) if (kind === 'undo' && !gone.has(id)) gone.add(undoes!);
        const turned = log.map((_, i) => log[(i + turn) % log.length]!);
        const { stands } = standingAmong(turned);
        expect(log.map(({ id }) => stands(id))).toEqual(log.map(({ id }) => !gone.has(id)));
      }),
      { numRuns: 300 },
    );
  });
});

describe('what an entry does to the counts', () => {
  it('is nothing for all that counts no units', () => {
    const silent: readonly LogKind[] = ['promised', 'began', 'paused', 'lost', 'undo', 'confirmed', 'packed'];
    for (const kind of silent)
      expect(effectOf({ kind, n: 3 })).toEqual({ good: 0, scrapped: 0, begun: 0, back: 0, gate: null });
    for (const kind of LOG_KINDS.filter((one) => !silent.includes(one)))
      expect(Object.values(effectOf({ kind, n: 3 })).some((change) => change !== 0 && change !== null)).toBe(true);
  });

  it('takes away what was scrapped after it was counted, and leaves what was not', () => {
    expect(effectOf({ kind: 'scrapped', n: 2, counted: true })).toMatchObject({ good: -2, scrapped: 2, back: 0 });
    for (const counted of [false, undefined, null])
      expect(effectOf({ kind: 'scrapped', n: 2, counted })).toMatchObject({ good: 0, scrapped: 2, back: 2 });
  });

  it('is work only where units were made, good or not', () => {
    expect(unitsWorked({ kind: 'done', n: 12 })).toBe(12);
    expect(unitsWorked({ kind: 'scrapped', n: 2 })).toBe(2);
    expect(unitsWorked({ kind: 'scrapped', n: 2, counted: true })).toBe(0);
    expect(unitsWorked({ kind: 'sent-back', n: 2 })).toBe(0);
  });
});

describe('the run clocks', () => {
  let at = 0;
  const entry = (kind: LogKind, step: string, who: string): ClockEntry => ({ kind, step, who, at: at++ });
  const on = (entries: readonly ClockEntry[]) =>
    [...runningClocks(entries)].map(([who, { step }]) => `${who}: ${step}`);

  it('are one for everybody, and end with a pause, a clock begun elsewhere or a count elsewhere', () => {
    const began = [entry('began', 'cut', 'ada'), entry('began', 'cut', 'ben')];
    expect(on(began)).toEqual(['ada: cut', 'ben: cut']);
    expect(on([...began, entry('paused', 'cut', 'ada')])).toEqual(['ben: cut']);
    expect(on([...began, entry('began', 'glue', 'ada')])).toEqual(['ben: cut', 'ada: glue']);
    expect(on([...began, entry('done', 'glue', 'ada')])).toEqual(['ben: cut']);
    expect(on([...began, entry('done', 'cut', 'ada')])).toEqual(['ada: cut', 'ben: cut']);
  });

  it('are those of the person whom the entry names, not of who tapped', () => {
    expect(on([{ ...entry('began', 'cut', 'maker'), person: 'ada' }])).toEqual(['ada: cut']);
  });

  it('all stop with the pause of somebody whose clock is not on', () => {
    expect(on([entry('began', 'cut', 'ada'), entry('began', 'cut', 'ben'), entry('paused', 'cut', 'cleo')])).toEqual(
      [],
    );
  });

  it('know the units that were worked since, and when they were heard of last', () => {
    const entries = [entry('began', 'cut', 'ada'), { ...entry('done', 'cut', 'ada'), n: 12 }];
    const scrapped = { ...entry('scrapped', 'cut', 'ada'), n: 2, counted: true };
    expect(runningClocks([...entries, scrapped]).get('ada')).toMatchObject({ units: 12, heardAt: scrapped.at });
  });
});
