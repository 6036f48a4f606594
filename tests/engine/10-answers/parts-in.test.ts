import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, Forecast, LogEntry } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T08:00Z') / 60_000;

/** Four shafts, each of a rod that is bought and ten cams that are printed and cleaned. */
const BUILD: Build = {
  id: 'shafts',
  name: 'Shafts',
  zone: 'UTC',
  event: '2026-12-20T18:00',
  people: [{ id: 'ada', name: 'Ada', hours: 'daily 08:00-20:00' }],
  suppliers: [{ id: 'metal', name: 'Metal', lead: 2 }],
  parameters: [{ name: 'frames', value: 3 }],
  parts: [
    { id: 'shaft', name: 'shaft', source: 'make', count: 4 },
    { id: 'cam', name: 'cam', source: 'make', yield: 0.9, usedIn: [{ part: 'shaft', count: 10 }] },
    { id: 'rod', name: 'rod', source: 'buy', supplier: 'metal', usedIn: [{ part: 'shaft', count: 1 }] },
  ],
  steps: [
    { id: 'print', name: 'print cams', part: 'cam', phases: [{ kind: 'hands', perUnit: 2 }] },
    { id: 'clean', name: 'clean cams', part: 'cam', phases: [{ kind: 'hands', perUnit: 1 }] },
    { id: 'thread', name: 'thread shafts', part: 'shaft', phases: [{ kind: 'hands', perUnit: 20 }] },
    { id: 'check', name: 'check shafts', part: 'shaft', phases: [{ kind: 'hands', perUnit: 5 }] },
  ],
  gates: [
    { id: 'test', name: 'test', after: ['check'], minutes: 10, sendsBack: [{ step: 'check', units: '2 * frames' }] },
  ],
};

const stepOf = ({ steps }: Forecast, step: string) => steps.find(({ id }) => id === step)!;
let seq = 0;
function entry(kind: LogEntry['kind'], step: string, n: number, more: Partial<LogEntry> = {}): LogEntry {
  seq += 1;
  return { id: `entry-${String(seq).padStart(4, '0')}`, kind, step, n, at: '2026-12-01T07:00:00Z', seq, ...more };
}
const plan = (...log: LogEntry[]) => planBuild(BUILD, log, NOW);

describe('what is in a unit', () => {
  it('are the parts that went in at its step or before it, in the numbers of the parts list', () => {
    const parts = [
      { step: 'order-rod', units: 1 },
      { step: 'clean', units: 10 },
    ];
    const byStep = (step: string) => [...stepOf(plan(), step).partsIn].sort((a, b) => a.units - b.units);
    expect(byStep('thread')).toEqual(parts);
    expect(byStep('check')).toEqual(parts);
    expect(byStep('print')).toEqual([]);
  });

  it('are no more than the parts list says where its count is a formula with noise behind the point', () => {
    const parts = BUILD.parts!.map((it) =>
      it.id === 'cam' ? { ...it, usedIn: [{ part: 'shaft', count: '0.1 * 3 * 10' }] } : it,
    );
    const { partsIn } = stepOf(planBuild({ ...BUILD, parts }, [], NOW), 'thread');
    expect(partsIn.find(({ step }) => step === 'clean')!.units).toBe(3);
  });
});

describe('parts that go into each other by very many ways', () => {
  it('are counted over all of them, in no more time than there are links', () => {
    const levels = 24;
    const made = (id: string, usedIn: string[]) => ({
      id,
      name: id,
      source: 'make' as const,
      ...(usedIn.length === 0 ? { count: 1 } : { usedIn: usedIn.map((part) => ({ part, count: 1 })) }),
    });
    const names = Array.from({ length: levels }, (_, level) => [`left-${level}`, `right-${level}`]);
    const parts = names.flatMap((both, level) => both.map((id) => made(id, level === 0 ? [] : names[level - 1]!)));
    const steps = parts.map(({ id }) => ({ id: `make-${id}`, name: id, part: id, takes: 1 }));
    const few = parts.slice(0, 2 * 12);
    const counts = stepOf(
      planBuild({ ...BUILD, gates: [], parts: few, steps: steps.slice(0, 2 * 12) }, [], NOW),
      'make-left-0',
    );
    for (const { step, units } of counts.partsIn) expect(units, step).toBe(2 ** (Number(step.split('-').at(-1)) - 1));
    expect(counts.partsIn).toHaveLength(2 * 11);
  });
});

describe('what a gate sends back', () => {
  it('is as many as its formula says', () => {
    expect(stepOf(plan(), 'test').sendsBack).toEqual([{ step: 'check', units: 6 }]);
  });
});

describe('a shaft that breaks after it was counted', () => {
  const made = [
    entry('received', 'order-rod', 4),
    entry('done', 'print', 40),
    entry('done', 'clean', 40),
    entry('done', 'thread', 4),
    entry('done', 'check', 4),
  ];
  const left = (forecast: Forecast) =>
    ['print', 'clean', 'thread', 'check', 'order-rod'].map((id) => stepOf(forecast, id).left);
  const broken = entry('scrapped', 'check', 1, { counted: true });

  it('is made again, and nothing else where its parts were saved', () => {
    expect(left(plan(...made))).toEqual([0, 0, 0, 0, 0]);
    expect(left(plan(...made, broken))).toEqual([0, 0, 1, 1, 0]);
  });

  it('asks once for its parts where they are lost too: and only then', () => {
    const lost = [
      entry('scrapped', 'clean', 10, { counted: true }),
      entry('scrapped', 'order-rod', 1, { counted: true }),
    ];
    const [print, clean, thread, check, rod] = left(plan(...made, broken, ...lost));
    expect([thread, check, rod]).toEqual([1, 1, 1]);
    // Ten good ones of nine in ten: a few more than ten are begun.
    expect(clean).toBeGreaterThanOrEqual(10);
    expect(print).toBe(clean);
    expect(clean).toBeLessThan(20);
    const undone = lost.map(({ id }, i) => ({
      ...entry('undo', 'x', 1),
      undoes: id,
      step: undefined,
      n: undefined,
      seq: 90 + i,
    }));
    expect(left(plan(...made, broken, ...lost, ...(undone as unknown as LogEntry[])))).toEqual([0, 0, 1, 1, 0]);
  });

  it('is not asked about in a doubt once the phone has asked', () => {
    const asks = (more: Partial<LogEntry>) =>
      JSON.stringify(plan(...made, entry('scrapped', 'check', 1, more))).includes('parts.cam.spares');
    expect([asks({}), asks({ counted: true }), asks({ counted: false })]).toEqual([true, false, false]);
  });
});
