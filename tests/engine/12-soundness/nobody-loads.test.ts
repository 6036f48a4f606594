/** Runs that the plan begins while nobody is there to load them. */
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { type Build, type PhaseShape, readLines } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T18:00Z') / 60_000;
const RUN: PhaseShape = { kind: 'run', machine: 'printer', minutes: 180 };

const evenings: Build = {
  id: 'kiosk',
  name: 'Kiosk',
  zone: 'UTC',
  event: '2026-12-24T18:00',
  people: [{ id: 'nora', name: 'Nora', hours: 'Mon-Sun 18:00-22:00' }],
  machines: [{ id: 'printer', name: 'Printer', unattended: true, overnight: true }],
  parts: [{ id: 'cam', name: 'Cam', source: 'make', count: 40 }],
  steps: [],
};

function planned(phases: readonly PhaseShape[]) {
  const steps = [{ id: 'print', name: 'Print cams', part: 'cam', lotSize: 8, phases: [...phases] }];
  return planBuild({ ...evenings, steps }, [], NOW);
}

const asked = (phases: readonly PhaseShape[]) => planned(phases).doubts.filter(({ code }) => code === 'nobody-loads');

describe('runs that begin while nobody is there', () => {
  it('are asked about once, however many they are', () => {
    const [doubt, ...more] = asked([RUN]);
    expect(more).toEqual([]);
    expect(doubt).toMatchObject({ field: 'steps.print.phases', values: { steps: ['print'], runs: 3 } });
  });

  it('are not asked about where hands load or unload them, or hands of no minutes say that nobody does', () => {
    const hands = (minutes: number): PhaseShape => ({ kind: 'hands', minutes });
    expect(asked([hands(5), RUN, hands(5)])).toEqual([]);
    expect(asked([RUN, hands(5)])).toEqual([]);
    expect(asked([hands(0), RUN])).toEqual([]);
    const starts = (phases: readonly PhaseShape[]) => planned(phases).lots.map(({ levelled }) => levelled!.start);
    expect(starts([hands(0), RUN])).toEqual(starts([RUN]));
    const { problems } = planBuild(
      { ...evenings, people: [], steps: [{ id: 'p', name: 'p', phases: [hands(0), RUN] }] },
      [],
      NOW,
    );
    expect(problems).toEqual([]);
  });

  it('do not come from a quick line: each of its runs begins when somebody is there', () => {
    const { build } = readLines('40 cams, print 8 in 3 h at night', { ...evenings, parts: [] });
    const { lots } = planBuild(build, [], NOW);
    const hours = lots.flatMap(({ placements }) =>
      placements.filter(({ kind }) => kind === 'run').map(({ start }) => Math.floor((start % 1440) / 60)),
    );
    expect(hours).toHaveLength(5);
    for (const hour of hours) expect([18, 19, 20, 21, 22]).toContain(hour);
  });
});
