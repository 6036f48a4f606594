import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry, Part } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-12T10:00Z') / 60_000; // a Saturday

/** Three panels, each with a motor that is bought and a bracket that is made, and what of them is to spare. */
function panels(motors: Partial<Part> = {}, brackets: Partial<Part> = {}): Build {
  return {
    id: 'panels',
    name: 'Panels',
    zone: 'UTC',
    event: '2026-12-14T19:00',
    people: [{ id: 'ada', name: 'Ada', hours: 'daily 09:00-22:00' }],
    suppliers: [{ id: 'mill', name: 'Motor mill', lead: 2, cutOff: '14:00' }],
    parts: [
      { id: 'panel', name: 'panel', source: 'make', count: 3 },
      { id: 'motor', name: 'motor', source: 'buy', supplier: 'mill', usedIn: [{ part: 'panel', count: 1 }], ...motors },
      { id: 'bracket', name: 'bracket', source: 'make', usedIn: [{ part: 'panel', count: 2 }], ...brackets },
    ],
    steps: [
      { id: 'bend', name: 'bend brackets', part: 'bracket', lotSize: 5, phases: [{ kind: 'hands', perUnit: 20 }] },
      { id: 'fit', name: 'fit panel', part: 'panel', lotSize: 1, phases: [{ kind: 'hands', perUnit: 30 }] },
      { id: 'pack', name: 'pack', after: ['fit', 'order-motor', 'bend'], phases: [{ kind: 'hands', minutes: 30 }] },
    ],
  };
}

function entry(id: string, kind: LogEntry['kind'], more: Partial<LogEntry>): LogEntry {
  return { id: `entry-${id}-x`, kind, at: '2026-12-12T09:00:00Z', ...more };
}

const MADE = [
  entry('motors', 'received', { step: 'order-motor', n: 3 }),
  entry('bent', 'done', { step: 'bend', n: 6 }),
  entry('fitted', 'done', { step: 'fit', n: 3 }),
  entry('packed', 'done', { step: 'pack' }),
];

describe('spares', () => {
  test('that are wanted when all is made leave it ready since it was made', () => {
    const forecast = planBuild(panels({ spares: 1 }), MADE, NOW, { risk: { seed: 1, futures: 100 } });
    expect(forecast.steps.find(({ id }) => id === 'order-motor')).toMatchObject({ total: 4, left: 1 });
    expect(forecast.room.readyBy.finish).toBe(NOW - 60);
    expect(forecast.room.event.finish).toBe(NOW - 60);
    expect(forecast.risk).toMatchObject({ readyBy: { chance: 1 }, event: { chance: 1 } });
    expect(forecast.risk!.finishAt.p95).toBe(NOW - 60);
  });

  test('are planned all the same, and bought with the rest where they are bought together', () => {
    const forecast = planBuild(panels({ spares: 1 }), MADE, NOW);
    expect(forecast.lots.map(({ id, levelled }) => [id, levelled === null])).toEqual([['order-motor/1', false]]);
    expect(planBuild(panels({ spares: 1 }), [], NOW).lots.filter(({ step }) => step === 'order-motor')).toHaveLength(1);
  });

  test('have lots of their own where hands make them, with what goes into them', () => {
    const build = panels({}, { spares: 2 });
    const lots = planBuild(build, [], NOW).lots.filter(({ step }) => step === 'bend');
    expect(lots.map(({ firstUnit, lastUnit }) => [firstUnit, lastUnit])).toEqual([
      [1, 5],
      [6, 6],
      [7, 8],
    ]);
  });

  test('never move the ready date and the end, however many are wanted', () => {
    const drawn = fc.record({
      motors: fc.integer({ min: 0, max: 9 }),
      brackets: fc.integer({ min: 0, max: 9 }),
      panels: fc.integer({ min: 0, max: 2 }),
      bent: fc.integer({ min: 0, max: 6 }),
      fitted: fc.integer({ min: 0, max: 3 }),
    });
    fc.assert(
      fc.property(drawn, ({ motors, brackets, bent, fitted, panels: sparePanels }) => {
        const log = [MADE[0]!, ...(bent > 0 ? [entry('b', 'done', { step: 'bend', n: bent })] : [])];
        if (fitted > 0) log.push(entry('f', 'done', { step: 'fit', n: fitted }));
        const build = panels({ spares: motors }, { spares: brackets });
        const withPanels = build.parts!.map((part) => (part.id === 'panel' ? { ...part, spares: sparePanels } : part));
        const { dates, planned } = {
          dates: planBuild(panels(), log, NOW),
          planned: planBuild({ ...build, parts: withPanels }, log, NOW),
        };
        expect(planned.room.readyBy.unlimitedFinish).toBe(dates.room.readyBy.unlimitedFinish);
        expect(planned.room.event.unlimitedFinish).toBe(dates.room.event.unlimitedFinish);
        expect(planned.room.readyBy.finish).toBe(dates.room.readyBy.finish);
      }),
      { seed: 9, numRuns: 60 },
    );
  });
});
