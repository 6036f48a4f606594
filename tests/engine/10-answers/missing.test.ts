import { describe, expect, test } from 'vitest';
import { summaryOf } from '../../../server/cli/summary.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build } from '../../../server/model/index.ts';
import { missingTexts } from '../../../views/words/missing-words.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';

const NOW = Date.parse('2026-12-01T18:00Z') / 60_000;
const RISK = { risk: { seed: 1, futures: 100 } };

/** A tree of five boughs with eighteen drums each, as far as it is entered. */
function tree(more: Partial<Build> = {}): Build {
  return {
    id: 'tree',
    name: 'Drum tree',
    zone: 'UTC',
    event: '2026-12-20T19:00',
    people: [{ id: 'me', name: 'Me', hours: 'daily 18:00-22:00' }],
    suppliers: [{ id: 'mill', name: 'Mill', lead: 4 }],
    parts: [
      { id: 'bough', name: 'Bough', source: 'make', count: 5 },
      { id: 'drum', name: 'Drum', source: 'make', usedIn: [{ part: 'bough', count: 18 }] },
      { id: 'axle', name: 'Axle', source: 'buy', supplier: 'mill', usedIn: [{ part: 'drum', count: 1 }] },
    ],
    steps: [],
    ...more,
  };
}

const GLUE = { id: 'glue', name: 'glue', part: 'drum', phases: [{ kind: 'hands' as const, perUnit: 5 }] };
const MOUNT = { id: 'mount', name: 'mount', part: 'bough', phases: [{ kind: 'hands' as const, perUnit: 30 }] };

function said(build: Build) {
  const { missing, complete, room, risk } = planBuild(build, [], NOW, RISK);
  return { missing, complete, finish: room.readyBy.finish, event: room.event.finish, risk };
}

describe('there is no date and no chance', () => {
  test('while made parts have no step: the first evening of every newcomer', () => {
    expect(said(tree())).toEqual({
      missing: [
        {
          code: 'no-step',
          parts: [
            { part: 'bough', name: 'Bough', units: 5 },
            { part: 'drum', name: 'Drum', units: 90 },
          ],
        },
      ],
      complete: false,
      finish: null,
      event: null,
      risk: null,
    });
  });

  test('while one of them has none', () => {
    expect(said(tree({ steps: [GLUE] }))).toMatchObject({
      missing: [{ code: 'no-step', parts: [{ part: 'bough' }] }],
      finish: null,
      risk: null,
    });
  });

  test('while nobody has said how long a step takes', () => {
    const steps = [GLUE, { ...MOUNT, phases: [{ kind: 'hands' as const }] }, { id: 'pack', name: 'pack' }];
    expect(said(tree({ steps }))).toMatchObject({
      missing: [{ code: 'no-time', steps: ['mount', 'pack'] }],
      complete: false,
      finish: null,
      risk: null,
    });
  });

  test('while nobody has hours for the work', () => {
    for (const people of [[], [{ id: 'me', name: 'Me', hours: 'never' }]]) {
      const { missing, finish, risk } = said(tree({ people, steps: [GLUE, MOUNT] }));
      expect(missing).toEqual([{ code: 'nobody', steps: ['order-axle', 'glue', 'mount'] }]);
      expect([finish, risk]).toEqual([null, null]);
    }
  });

  test('and the terminal says what is missing instead', () => {
    const forecast = planBuild(tree({ steps: [GLUE] }), [], NOW, RISK);
    expect(summaryOf(forecast)).toContain(
      'There is no date yet. First somebody must say:\n  No step makes Bough (5) yet.',
    );
    expect(missingTexts(forecast)).toEqual(['No step makes Bough (5) yet. Add the steps that make it.']);
  });
});

describe('nothing is missing', () => {
  test('where every made part has a step with a time, a typed nought too', () => {
    const steps = [GLUE, MOUNT, { id: 'doors', name: 'doors open', takes: 0, after: ['mount'] }];
    const { missing, complete, finish, risk } = said(tree({ steps }));
    expect([missing, complete]).toEqual([[], true]);
    expect(finish).not.toBeNull();
    expect(risk).not.toBeNull();
  });

  test('in the demo', () => {
    const { build, log } = tideWall(NOW);
    expect(planBuild(build, log ?? [], NOW).missing).toEqual([]);
  });
});
