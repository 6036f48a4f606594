/** What is said where a thing cannot be taken out, over the engine's own forecasts. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { createStore, openDatabase } from '../../../server/store/index.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

const NOW = Date.parse('2026-11-30T12:00Z') / 60_000;
const ARCH: Build = {
  id: 'arch',
  name: 'Arch',
  zone: 'UTC',
  event: '2026-12-20T19:00',
  parameters: [{ name: 'boughs', value: 5 }],
  parts: [{ id: 'bough', name: 'Bough', source: 'make', count: 'boughs' }],
  people: [{ id: 'me', name: 'Me', hours: 'daily 09:00-17:00' }],
  machines: [{ id: 'saw', name: 'band saw' }],
  steps: [
    { id: 'cut', name: 'Cut', part: 'bough', phases: [{ kind: 'run', machine: 'saw', perUnit: 5 }] },
    { id: 'test-bough', name: 'Test bough', part: 'bough', phases: [{ kind: 'hands', perUnit: 5 }] },
    { id: 'pack', name: 'Pack', phases: [{ kind: 'hands', minutes: 30 }], after: ['test-bough'] },
    { id: 'load', name: 'Load', phases: [{ kind: 'hands', minutes: 30 }], after: ['test-bough', 'pack'] },
  ],
};

let real: RealApp;
beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), NOW);
  const made = await real.planner.create(ARCH, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
});
afterAll(() => real.close());

/** The refusal above the form, as words and as links. */
async function refusal(open: string): Promise<{ words: string; links: string[] }> {
  const { body, statusCode } = await real.app.inject({
    method: 'POST',
    url: `/b/arch/${open}`,
    payload: new URLSearchParams({ edit: '1', do: 'remove' }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
  expect(statusCode).toBe(422);
  const [notice = ''] = /<div class="refusal".*?<\/div>/s.exec(body) ?? [];
  const words = notice
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/ ([.,])/g, '$1');
  return { words: words.trim(), links: [...notice.matchAll(/ href="([^"]*)"/g)].map(([, href]) => href!) };
}

describe('a thing that others need', () => {
  it('says who waits for it, with the way there, and nothing else', async () => {
    expect(await refusal('steps?open=steps/pack')).toEqual({
      words: 'Nothing has been changed yet: “Load” waits for “Pack”. Before you remove it, change Load.',
      links: ['/b/arch/steps?open=steps%2Fload'],
    });
  });

  it('names all who wait for it', async () => {
    expect(await refusal('steps?open=steps/test-bough')).toEqual({
      words:
        'Nothing has been changed yet: “Pack” waits for “Test bough”. “Load” waits for “Test bough”. Before you remove it, change Pack, Load.',
      links: ['/b/arch/steps?open=steps%2Fpack', '/b/arch/steps?open=steps%2Fload'],
    });
  });

  it('names who uses it, on whichever page that is', async () => {
    expect(await refusal('hands?open=machines/saw')).toEqual({
      words: 'Nothing has been changed yet: “Cut” uses “band saw”. Before you remove it, change Cut.',
      links: ['/b/arch/steps?open=steps%2Fcut'],
    });
    expect(await refusal('design?open=parameters/boughs')).toEqual({
      words: 'Nothing has been changed yet: “Bough” uses “boughs”. Before you remove it, change Bough.',
      links: ['/b/arch/design?open=parts%2Fbough'],
    });
  });

  it('stays with what would be wrong without it, where nobody names it', async () => {
    expect((await refusal('hands?open=people/me')).words).toMatch(
      /^Nothing has been changed yet: “Me” cannot be removed: the plan needs it\. /,
    );
    expect(real.planner.build('arch')!.revision).toBe(1);
  });
});

describe('two who save at the same moment', () => {
  it('names the edit that was saved, with which a second save replaces it', async () => {
    const save = (quantity: string, edit: string) =>
      real.app.inject({
        method: 'POST',
        url: '/b/arch/design?open=parameters/boughs',
        payload: new URLSearchParams({ edit, do: 'save', name: 'boughs', quantity }).toString(),
        headers: { 'content-type': 'application/x-www-form-urlencoded' },
      });
    const both = await Promise.all([save('6', '1'), save('7', '1')]);
    const refused = both.find(({ statusCode }) => statusCode === 409)!;
    expect(both.filter((one) => one !== refused)[0]!.statusCode).toBeLessThan(400);
    expect(refused.body).toMatch(/Close without saving to see edit 2\. Saving again replaces it with yours\./);
    expect(refused.body).toContain('name="edit" value="2"');
  });
});
