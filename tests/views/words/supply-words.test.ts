import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, Forecast, LogEntry } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { Left } from '../../../views/parts/capacity.tsx';
import { Tight } from '../../../views/parts/tight.tsx';
import { renderFragment } from '../../../views/render.ts';
import { Ticket } from '../../../views/ticket/ticket.tsx';
import type { BuildPage } from '../../../views/types.ts';
import { missingText, unitsOfStep, unitsText } from '../../../views/words/supply-words.ts';
import { lantern } from '../../store/helpers.ts';
import { FAKE_NOW, fakeForecast } from '../../support/fake-forecast.ts';
import { wordedThreats } from '../../support/words.ts';

const plain = (text: string | null) => text?.replaceAll(/[\u00a0\u202f]/g, ' ') ?? null;

describe('units of an order', () => {
  it.each([
    [1, { unit: 'L', pack: 2.5 }, '1 pack of 2.5 L oil'],
    [2, { unit: 'L', pack: 2.5 }, '2 packs of 2.5 L oil'],
    [12, { unit: 'm', pack: 1 }, '12 m oil'],
    [40, { unit: null, pack: 20 }, '40 × oil'],
  ])('%s of %j are said as %s', (units, measure, text) => {
    expect(plain(unitsText(units, 'oil', measure))).toBe(text);
  });
});

describe('units of a step', () => {
  const forecast = planBuild(
    lantern({
      steps: [],
      gates: [],
      parts: [{ id: 'cord', name: 'cord', source: 'buy', supplier: 'works', count: 628, packSize: 100 }],
      suppliers: [{ id: 'works', name: 'Rope works', workingDays: 'mon-fri', lead: 2 }],
    }),
    [],
    FAKE_NOW,
  );

  it('are those that are really ordered, in whole packs, wherever an order is named', () => {
    const order = forecast.steps.find(({ kind }) => kind === 'order')!;
    expect(order.left).toBe(628);
    expect(plain(unitsOfStep(forecast, order.id, order.left))).toBe('700 × cord');
  });

  it('are those of a lot where an order comes in several', () => {
    const order = forecast.steps.find(({ kind }) => kind === 'order')!;
    expect(plain(unitsOfStep(forecast, order.id, 250))).toBe('250 × cord');
  });

  it('are as many as there are of any other', () => {
    expect(plain(unitsOfStep(fakeForecast(), 'paint-fish', 12))).toBe('12 × fish');
  });
});

describe('what is measured', () => {
  const oiled = lantern({
    parts: [
      { id: 'ribs', name: 'ribs', source: 'make', count: 40 },
      { id: 'oil', name: 'oil', source: 'buy', unit: 'L', packSize: 2.5, count: 7, supplier: 'works' },
    ],
    suppliers: [{ id: 'works', name: 'Oil works', workingDays: 'mon-fri', lead: 30 }],
    steps: [
      { id: 'dip', name: 'dip ribs', part: 'ribs', uses: ['oil'], phases: [{ kind: 'hands', perUnit: 4 }] },
      { id: 'hang', name: 'hang ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 6 }] },
    ],
  });
  const ordered: LogEntry = { id: 'oil-0001', kind: 'ordered', step: 'order-oil', n: 2, at: '2026-11-25T08:00:00Z' };
  const open = planBuild(oiled, [], FAKE_NOW);
  const out = planBuild(oiled, [ordered], FAKE_NOW);

  it('is said in its packs by every unit of its order, all or some', () => {
    expect(plain(unitsOfStep(open, 'order-oil', 3))).toBe('3 packs of 2.5 L oil');
    expect(plain(unitsOfStep(open, 'order-oil', 1))).toBe('1 pack of 2.5 L oil');
    expect(plain(unitsOfStep(out, 'order-oil', 1))).toBe('1 pack of 2.5 L oil');
  });

  it('is said so by what threatens the date', () => {
    const said = [open, out].map((forecast) => wordedThreats(forecast).map(({ message }) => message));
    expect(said[0]).toContainEqual(expect.stringContaining('3 packs of 2.5 L oil'));
    expect(said[1]).toContainEqual(expect.stringContaining('2 packs of 2.5 L oil'));
    expect(said.flat().join(' ')).not.toContain('× oil');
  });

  it('is said so by the sheets that say what is left of it', () => {
    const page = pageOf(oiled, out);
    const order = out.steps.find(({ id }) => id === 'order-oil')!;
    const sheets = [Tight({ page }), Left({ page }), Ticket({ page, step: order, number: 1 })].map(
      (html) => plain(renderFragment(html).replaceAll(/<[^>]*>/g, ' '))!,
    );
    expect(sheets[0]).toContain('3 packs of 2.5 L oil left');
    expect(sheets[2]).toMatch(/0 of 3 +packs of 2\.5 L oil/);
    expect(sheets.join(' ')).not.toContain('× oil');
  });
});

describe('what is missing this week', () => {
  const forecast = fakeForecast();
  const clock = wallClock(forecast.build.zone);

  it('names what must be ordered with its last moment and what is needed and out with its day, nothing else', () => {
    expect(plain(missingText(forecast, clock))).toBe(
      'Missing this week: 50 × fish (order before tomorrow 14:00), 200 × screw M3 x 8 (due Wed 2 Dec 10:00).',
    );
  });

  it('says that nothing is where all is here or far away, and is silent where nothing comes from outside', () => {
    const later = FAKE_NOW - 30 * 1440;
    expect(plain(missingText({ ...forecast, now: later }, clock))).toBe('Nothing that is needed this week is missing.');
    expect(missingText({ ...forecast, supplies: [] }, clock)).toBeNull();
  });
});

function pageOf(build: Build, forecast: Forecast): BuildPage {
  return {
    ...{ build, revision: 1, forecast, entries: 1, computedAt: FAKE_NOW, stale: false, seen: '1', light: null },
    clock: wallClock(build.zone),
  };
}
