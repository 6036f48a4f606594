import { describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { formValues } from '../../../server/web/edits/form-text.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern, openStore } from '../../store/helpers.ts';
import { realApp } from '../../support/changes/real-app.ts';

/** Ribs of which twelve were cut before a change, and rods that come for them. */
const BUILD: Build = lantern({
  event: '2026-12-20T18:00',
  suppliers: [{ id: 'mill', name: 'Mill', lead: 4 }],
  people: [{ id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00', can: ['cut', 'glue', 'order-rod'] }],
  parts: [
    {
      id: 'ribs',
      name: 'willow ribs',
      source: 'make',
      count: 60,
      unchecked: [{ at: 'passed', step: 'cut', units: 12, because: 'length 480 → 500' }],
    },
    {
      id: 'rod',
      name: 'brass rod',
      source: 'buy',
      usedIn: [{ part: 'ribs', count: 1 }],
      supplier: 'mill',
      onHand: 20,
      unchecked: [{ at: 'on-hand', units: 20 }],
    },
  ],
  steps: [
    { id: 'cut', name: 'cut willow', part: 'ribs', lotSize: 12, phases: [{ kind: 'hands', perUnit: 9 }] },
    { id: 'glue', name: 'glue willow', part: 'ribs', lotSize: 12, phases: [{ kind: 'hands', perUnit: 8 }] },
  ],
});
const SHEETS = ['', '/now', '/steps', '/dates', '/orders', '/design', '/hands', '/burn-down', '/balance', '/steps/cut'];

/** The build planned, with twelve of a part counted. */
async function withTwelveCut() {
  const real = await realApp(openStore(), NOON);
  const at = '2026-11-30T10:00:00Z';
  const done = { id: 'tap-0001-xxxx', kind: 'done', step: 'cut', n: 12, at, who: 'maker' } as const;
  const made = await real.planner.create(BUILD, [done], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
  return real;
}

describe('units that nobody has looked at since a change', () => {
  it('are marked on every sheet that shows their part or its step', async () => {
    const real = await withTwelveCut();
    for (const sheet of SHEETS) {
      const { body, statusCode } = await real.app.inject({ url: `/b/lantern${sheet}` });
      expect([sheet, statusCode]).toEqual([sheet, 200]);
      const said = body.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0\u202f]+/g, ' ');
      expect(said).toMatch(/willow|brass rod/);
      const isMarked = /(12|20) units unchecked/.test(said);
      expect([sheet, isMarked]).toEqual([sheet, true]);
    }
    await real.close();
  });
});

it('are not asked about where a part would go into itself, which is refused at once', async () => {
  const real = await withTwelveCut();
  const post = async (usedIn: Readonly<Record<string, string>>) => {
    const values = formValues('parts', BUILD.parts![0]!);
    const answer = await real.app.inject({
      method: 'POST',
      url: '/b/lantern/design?open=parts/ribs',
      payload: new URLSearchParams({
        ...(values as Record<string, string>),
        ...usedIn,
        edit: '1',
        do: 'save',
      }).toString(),
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
    return { status: answer.statusCode, said: answer.body.replaceAll(/<[^>]*>/g, ' ') };
  };
  const refused = await post({ 'usedIn.0.part': 'ribs', 'usedIn.0.count': '1' });
  expect(refused.said).toContain('A part cannot be a part of itself');
  expect(refused.status).toBe(422);
  await real.close();
});
