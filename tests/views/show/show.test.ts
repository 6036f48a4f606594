import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import { type Build, checkBuild } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { renderFragment } from '../../../views/render.ts';
import { ShowSheet } from '../../../views/show/show.tsx';

const at = (instant: string): number => Date.parse(instant) / 60_000;

/** A sign that hangs in a library: switched on at home, hung by one, wired by somebody who is not named yet. */
const SIGN: Build = {
  id: 'sign',
  name: 'Sign',
  zone: 'UTC',
  loadIn: '2026-12-10T09:00',
  event: '2026-12-10T19:00',
  people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-18:00', can: ['coat', 'hang', 'hum'] }],
  parts: [
    { id: 'paint', name: 'Paint', source: 'buy', unit: 'L', count: 2, onHand: 9 },
    { id: 'plate', name: 'Plate', source: 'make', count: 1 },
  ],
  steps: [
    { id: 'coat', name: 'Coat the plate', part: 'plate', phases: [{ kind: 'hands', minutes: 45 }] },
    { id: 'hang', name: 'Hang the plate', part: 'plate', onSite: true, phases: [{ kind: 'hands', minutes: 30 }] },
    { id: 'wire', name: 'Wire the plate', onSite: true, after: ['hang'], phases: [{ kind: 'hands', minutes: 60 }] },
  ],
  gates: [{ id: 'hum', name: 'It hums', after: ['coat'], minutes: 20, powerOn: true }],
  boxes: [{ id: 'tin', name: 'Tin', parts: [{ part: 'paint', count: 0.5 }] }],
};

function said(changes: Partial<Build> = {}, now = at('2026-12-01T09:00Z')): string {
  const checked = checkBuild({ ...SIGN, ...changes });
  if (!checked.ok) throw new Error(checked.problems[0]!.message);
  const forecast = planBuild(checked.value, [], now, { levelling: { seed: 1, schedules: 1 } });
  const page = {
    ...{ build: checked.value, revision: 1, forecast, entries: 0, computedAt: now, stale: false, seen: '1' },
    ...{ clock: wallClock('UTC'), light: null },
  };
  const html = renderFragment(ShowSheet({ page, open: null }));
  return html.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0\u202f]+/g, ' ');
}

describe('Show day', () => {
  it('says first what is missing, and what is not in the run for that', () => {
    const html = said();
    const [, stops = ''] = html.split('What could stop the show');
    expect(stops.trim()).toMatch(/^Nobody has hours for “Wire the plate”, or may do it\./);
    const [run = ''] = html.split('Run sheet').at(-1)!.split('Power-on');
    expect(run).toContain('Ria, 30 min');
    expect(run).not.toContain('nobody needed');
    expect(run).toMatch(/Left to do on site, but not in this run, because [^:]*: Wire the plate\./);
  });

  it('has not done all while somebody is missing for all of it', () => {
    const html = said({ steps: [SIGN.steps[0]!, { ...SIGN.steps[2]!, after: [] }] });
    expect(html).not.toContain('Nothing is left to do on site');
    expect(html).toContain('not in this run');
  });

  it('says of a tin how much is in it', () => {
    expect(said()).toContain('0.5 L of Paint');
    expect(said()).not.toContain('more than goes to the site');
  });

  it('says of the power-on at home the day that it is planned for, and what may still be done', () => {
    const late = at('2026-12-10T08:00Z');
    expect(said()).toContain('at home, on a day before the load-in');
    const { loadIn: _, ...open } = SIGN;
    const sudden = said({}, late);
    expect(sudden).not.toContain('on a day before the load-in');
    expect(said({ ...open, loadIn: undefined } as never)).toContain('at home, on a day before the event');
    const ungated = { gates: [], steps: SIGN.steps.map((step) => ({ ...step, hazards: ['mains' as const] })) };
    expect(said(ungated)).toContain('Switch it on there on a day before the load-in.');
    expect(said(ungated, late)).toContain('No night is left before the load-in: switch it on there now.');
    expect(said(ungated, at('2026-12-10T10:00Z'))).not.toMatch(/No night is left|Switch it on/);
  });

  it('has a run sheet that says of itself that it is not complete, until somebody named signs at a gate', () => {
    const hang = { ...SIGN.steps[1]!, hazards: ['overhead' as const] };
    const steps = [SIGN.steps[0]!, hang];
    const run = (changes: Partial<Build>) =>
      said({ steps, ...changes })
        .split('Run sheet')
        .at(-1)!
        .split('Power-on')[0]!;
    const gate = { id: 'proof', name: 'Proof', after: ['hang'], minutes: 20, onSite: true };
    const signed = { ...gate, signedBy: 'the rigger of the library' };
    const point = { id: 'hook', name: 'Hook', load: 4, limit: 10 };
    const open = 'Not complete: what hangs above people, and mains, need a competent person by name';
    expect(run({})).toMatch(new RegExp(`${open}.* Hang the plate \\(.*\\): no gate after it`));
    expect(run({ gates: [gate] })).toMatch(new RegExp(`${open}.*: the gate “Proof” names nobody who signs`));
    expect(run({ gates: [signed] })).not.toContain('Not complete');
    expect(run({ gates: [signed], points: [point] })).toMatch(
      new RegExp(`${open}.* Point Hook: nobody named who signs\\.`),
    );
    const named = { ...point, signedBy: 'Ria' };
    expect(run({ gates: [signed], points: [named] })).toContain('Point Hook: Ria signs, at no gate yet.');
    expect(run({ gates: [signed], points: [{ ...point, gate: 'proof' }] })).not.toContain('Not complete');
  });

  it('has the cautions of what is done on site under its run sheet, once, and who decides', () => {
    const steps = [SIGN.steps[0]!, { ...SIGN.steps[1]!, hazards: ['overhead' as const, 'lifting' as const] }];
    const run = said({ steps }).split('Run sheet').at(-1)!.split('Power-on')[0]!;
    expect(run.match(/Things hung above people\./g)).toHaveLength(1);
    expect(run).toMatch(/⚠ Lifting\. .* Local codes, the venue and licensed people decide\./);
    expect(said().split('Run sheet').at(-1)).not.toContain('⚠');
  });
});
