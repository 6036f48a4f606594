/** What is said where scrap has changed how many are left. */
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { yieldText } from '../../../views/words/design-words.ts';

const NOW = Date.parse('2026-12-01T17:00Z') / 60_000;

const BUILD: Build = {
  id: 'heads',
  name: 'Heads',
  zone: 'UTC',
  event: '2026-12-20T18:00',
  people: [{ id: 'ada', name: 'Ada', hours: 'daily 08:00-20:00' }],
  parts: [{ id: 'head', name: 'head', source: 'make', count: 180 }],
  steps: [{ id: 'cut', name: 'cut', part: 'head', phases: [{ kind: 'hands', perUnit: 3 }] }],
};

const logged = (kind: LogEntry['kind'], n: number): LogEntry => ({
  id: `entry-${kind}`,
  kind,
  step: 'cut',
  n,
  at: '2026-12-01T12:00:00Z',
});

describe('why more are left than the design asks for', () => {
  it('is said by what has failed, where that has changed it', () => {
    const forecast = planBuild(BUILD, [logged('done', 12), logged('scrapped', 20)], NOW);
    expect(forecast.steps[0]!.left).toBeGreaterThan(300);
    expect(yieldText(forecast, 'head')?.replace(/\s/g, ' ')).toBe(
      '20 of 32 failed: what is left is planned with 48 % failing instead of 0 %',
    );
  });

  it('is not said of what counting has told nothing of, nor of what is of no part', () => {
    const forecast = planBuild(BUILD, [logged('done', 12), logged('scrapped', 1)], NOW);
    expect([yieldText(forecast, 'head'), yieldText(forecast, null)]).toEqual([null, null]);
  });
});
