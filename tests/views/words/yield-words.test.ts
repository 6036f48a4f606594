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

  it('is not said where as many are to be made as without it', () => {
    const typed = { ...BUILD, parts: [{ ...BUILD.parts![0]!, yield: 0.98 }] };
    const said = (done: number) => {
      const forecast = planBuild(typed, [logged('done', done), logged('scrapped', 1)], NOW);
      const { toMake, yieldLearnt } = forecast.parts[0]!;
      expect(yieldLearnt).toMatchObject({ given: 0.98, scrapped: 1 });
      return { changes: toMake - yieldLearnt!.toMakeAsGiven, text: yieldText(forecast, 'head') };
    };
    // Of the last five, whether 1 % or 2 % fail, five come out good 90 times in 100.
    expect(said(175)).toEqual({ changes: 0, text: null });
    expect(said(80)).toMatchObject({ changes: -1, text: expect.stringContaining('1 of 81 failed') });
  });

  it('is not said of what counting has told nothing of, nor of what is of no part', () => {
    const forecast = planBuild(BUILD, [logged('done', 12), logged('scrapped', 1)], NOW);
    expect([yieldText(forecast, 'head'), yieldText(forecast, null)]).toEqual([null, null]);
  });
});
