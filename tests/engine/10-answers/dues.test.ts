import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';

/** Tue 1 Dec 2026, 9:00 UTC: Ria begins. */
const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;
const at = (time: string) => Date.parse(`2026-12-${time}Z`) / 60_000;

/** Two days of lamps, and twelve labels that somebody asked for: half an hour each. */
function shop(label: Partial<NonNullable<Build['parts']>[number]>, low = 30, high = 30): Build {
  const perUnit = low === high ? low : { low, likely: low, high };
  return {
    id: 'shop',
    name: 'shop',
    zone: 'UTC',
    event: '2026-12-10T18:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    parts: [
      { id: 'lamp', name: 'lamp', source: 'make', count: 16 },
      { id: 'label', name: 'label', source: 'make', count: 12, ...label },
    ],
    steps: [
      { id: 'solder', name: 'solder', part: 'lamp', lotSize: 2, phases: [{ kind: 'hands', perUnit: 60 }] },
      { id: 'print', name: 'print', part: 'label', lotSize: 2, phases: [{ kind: 'hands', perUnit }] },
    ],
  };
}

const planned = (build: Build, log: LogEntry[] = []) => planBuild(build, log, NOW);
const labels = (build: Build) => planned(build).dues!.find(({ id }) => id === 'label')!;

describe('a part that is due before the rest', () => {
  it('is made first, where it was made last without', () => {
    const first = labels(shop({ due: '2026-12-01T17:00' }));
    expect(first).toMatchObject({ left: 12, at: at('01T17:00'), finish: at('01T15:00'), clock: 120, working: 120 });
    expect(planned(shop({})).dues).toEqual([]);
  });

  it('has its last moments by its own due, not by the ready-by', () => {
    const lastFinish = (build: Build) => planned(build).steps.find(({ id }) => id === 'print')!.levelled!.lastFinish;
    expect(lastFinish(shop({ due: '2026-12-02T12:00' }))).toBe(at('02T12:00'));
    expect(lastFinish(shop({}))).toBe(at('10T17:00'));
    const step = shop({});
    const own = { ...step, steps: [step.steps[0]!, { ...step.steps[1]!, due: '2026-12-02T12:00' }] };
    expect(lastFinish(own)).toBe(at('02T12:00'));
    expect(planned(own).dues).toMatchObject([{ list: 'steps', id: 'print', at: at('02T12:00') }]);
  });

  it('threatens where it cannot be done, by how much, and leaves the ready-by its own room', () => {
    const build = shop({ due: '2026-12-01T12:00' });
    const { threats, dues, room } = planned(build);
    expect(dues![0]).toMatchObject({ finish: at('01T15:00'), clock: -180, working: -180 });
    expect(threats!.filter(({ code }) => code === 'due')).toMatchObject([
      { costMinutes: 180, values: { name: 'label', left: 12, chance: null } },
    ]);
    expect(room.readyBy.clock).toBeGreaterThan(0);
    expect(planned(shop({ due: '2026-12-03T17:00' })).threats!.filter(({ code }) => code === 'due')).toEqual([]);
  });

  it('has a chance of its own, which threatens where it is less than the maker asks for', () => {
    const drawn = (due: string) =>
      planBuild(shop({ due }, 20, 60), [], NOW, { risk: { seed: 1, futures: 400, exactness: 0 } });
    const tight = drawn('2026-12-01T15:00');
    const wide = drawn('2026-12-04T17:00');
    const [chance, safe] = [tight, wide].map(({ risk }) => risk!.dues![0]!);
    expect(chance).toMatchObject({ list: 'parts', id: 'label', target: at('01T15:00') });
    expect(chance!.chance).toBeGreaterThan(0.02);
    expect(chance!.chance).toBeLessThan(0.9);
    expect(safe!.chance).toBeGreaterThan(0.97);
    expect(tight.threats!.map(({ code }) => code)).toContain('due');
    expect(wide.threats!.map(({ code }) => code)).not.toContain('due');
  });

  it('is done when it was counted, and spares of it may come later', () => {
    const log: LogEntry[] = [{ id: 'entry-one-x', kind: 'done', step: 'print', n: 12, at: '2026-12-01T08:30:00Z' }];
    const done = planned(shop({ due: '2026-12-01T12:00', spares: 4 }), log);
    expect(done.dues![0]).toMatchObject({ left: 0, finish: at('01T08:30'), clock: 210 });
    expect(done.threats!.filter(({ code }) => code === 'due')).toEqual([]);
    expect(done.steps.find(({ id }) => id === 'print')!.left).toBe(4);
  });

  it('changes nothing where it is due with all the rest', () => {
    const [plain, due] = [shop({}), shop({ due: '2026-12-10T18:00' })].map((build) => planned(build));
    expect({ ...due, dues: [] }).toEqual(plain);
  });

  it('says what is wrong with a date after the event', () => {
    const { problems } = planned(shop({ due: '2026-12-24T12:00' }));
    expect(problems).toMatchObject([{ field: 'parts.label.due', value: '2026-12-24T12:00', severity: 'warning' }]);
    expect(problems[0]!.message).toContain('due after the event; give it a due date before that');
  });
});
