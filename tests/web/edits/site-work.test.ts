/** An edit that decides whether the piece is set up before the event, while the day it is ready stays the same. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern, openStore } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

/** Two have to hang it, and one of them is away between the load-in and the event. */
const FAR: Build = lantern({
  readyBy: '2026-12-15T18:00',
  loadIn: '2026-12-19T09:00',
  event: '2026-12-20T12:00',
  people: [
    { id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00' },
    { id: 'ben', name: 'Ben', hours: 'mon-fri 09:00-17:00' },
  ],
  steps: [
    { id: 'cut', name: 'cut ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 4 }] },
    { id: 'hang', name: 'hang it', onSite: true, after: ['cut'], phases: [{ kind: 'hands', minutes: 120, people: 2 }] },
  ],
});

let real: RealApp;
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(FAR, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterEach(() => real.close());

const plain = (html: string) => html.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0]+/g, ' ');
const sheet = async (path: string) => plain((await real.app.inject({ url: `/b/lantern${path}` })).body);

function benComes(button: string) {
  return real.app.inject({
    method: 'POST',
    url: '/b/lantern/hands?open=people/ben',
    payload: new URLSearchParams({
      edit: String(real.planner.build('lantern')!.revision),
      name: 'Ben',
      hours: 'mon-fri 09:00-17:00',
      'exceptions.0.date': '2026-12-19',
      'exceptions.0.hours': '09:00-17:00',
      'option-name': 'Ben comes',
      do: button,
    }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

const SAVES_THE_EVENT = /as before; (over )?\d+ % as before; installed before the event: under 1 % to (over )?9\d %/;

describe('what is set up on site', () => {
  it('is said by every sheet where it comes too late, though the piece is ready in time', async () => {
    for (const path of ['', '/steps', '/hands', '/history']) {
      expect(await sheet(path), path).toContain('but on site until Mon 21 Dec 11:00, 23 h after the event');
    }
  });

  it('counts in what an edit would do, and in what it did', async () => {
    const seen = plain((await benComes('see')).body);
    expect(seen).toMatch(SAVES_THE_EVENT);
    expect(seen).toMatch(/Installed before the event: (over )?9\d %, [\d.]+ points more ± [\d.]+/);
    expect((await benComes('save')).statusCode).toBe(303);
    await real.planner.settled();
    expect(await sheet('/hands')).toMatch(SAVES_THE_EVENT);
    expect(await sheet('/hands')).not.toContain('but on site until');
  });

  it('is a figure of each option', async () => {
    await benComes('keep');
    await sheet('/options');
    await real.planner.settled();
    expect(await sheet('/options')).toMatch(/Installed before the event (over )?9\d % [\d.]+ points more/);
  });
});
