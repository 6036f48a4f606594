/** Hours needed against hours there. */
import { describe, expect, it } from 'vitest';
import { summaryOf } from '../../../server/cli/summary.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Step } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;
const CUT: Step = {
  ...{ id: 'cut', name: 'Cut', part: 'slat', lotSize: 1 },
  phases: [
    { kind: 'hands', perUnit: 60 },
    { kind: 'run', machine: 'saw', minutes: 30 },
  ],
};

/** Ten slats and some to spare, an hour of hands and half an hour of a saw each; two saws alike. */
function slats(spares: number, more: Partial<Build> = {}): Build {
  return {
    id: 'slats',
    name: 'Slats',
    zone: 'UTC',
    event: '2026-12-24T19:00',
    readyBy: '2026-12-11T18:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    machines: [{ id: 'saw', name: 'Saw', count: 2, hours: 'daily 08:00-18:00' }],
    parts: [{ id: 'slat', name: 'Slat', source: 'make', count: 10, spares }],
    steps: [CUT],
    ...more,
  };
}

const figures = (build: Build) =>
  planBuild(build, [], NOW).capacity.map(({ name, neededMinutes, spareMinutes, offeredMinutes }) => [
    name,
    neededMinutes,
    spareMinutes,
    offeredMinutes,
  ]);

describe('hours needed against hours there', () => {
  it('leave out spares, which have until the event, and say how much that is', () => {
    // Eleven days of eight hours from nine o'clock on, and of two saws from nine today, then from eight.
    expect(figures(slats(0))).toEqual([
      ['Ria', 600, undefined, 11 * 480],
      ['Saw', 300, undefined, 2 * (9 * 60 + 10 * 600)],
    ]);
    expect(figures(slats(4))).toEqual([
      ['Ria', 600, 240, 11 * 480],
      ['Saw', 300, 120, 2 * (9 * 60 + 10 * 600)],
    ]);
    expect(summaryOf(planBuild(slats(4), [], NOW))).toContain('4 h more for spares, which have until the event');
  });

  it('count the work that only some may do against their own hours, and all of it against those of all', () => {
    const people = [
      { id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' },
      { id: 'tom', name: 'Tom', hours: 'daily 09:00-11:00' },
    ];
    const by = (who: string, minutes: number): Step => ({
      ...{ id: `by-${who}`, name: who },
      phases: [{ kind: 'hands', minutes, who: [who] }],
    });
    const build = slats(0, { people, steps: [CUT, by('tom', 45), by('ria', 30)] });
    expect(figures(build).map(([name, needed]) => [name, needed])).toEqual([
      ['all hands', 675],
      ['Tom', 45],
      ['Ria', 30],
      ['Saw', 300],
    ]);
  });

  it('are listed for a hundred days and one more, and counted for years', () => {
    const far = { readyBy: '2029-12-01T09:00', event: '2029-12-24T19:00' };
    const [ria] = planBuild(slats(0, far), [], NOW).capacity;
    expect(ria!.days).toHaveLength(101);
    expect([ria!.days[0]!.date, ria!.days.at(-1)!.date]).toEqual(['2026-12-01', '2027-03-11']);
    expect(ria!.days.at(-1)!.cumulativeMinutes).toBe(101 * 480);
    expect(ria!.offeredMinutes).toBe((365 * 3 + 1) * 480);
  });
});
