import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern, openStore } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

/** Mon 30 Nov 2026, 13:00 in Berlin; bolts are on their way. */
const BUILD: Build = lantern({
  event: '2026-12-04T18:00',
  loadIn: '2026-12-04T09:00',
  readyBy: '2026-12-03T18:00',
  suppliers: [{ id: 'mill', name: 'mill', lead: 2 }],
  machines: [{ id: 'saw', name: 'saw', count: 2 }],
  parts: [
    { id: 'ribs', name: 'ribs', source: 'make', count: 60 },
    { id: 'bolt', name: 'bolt', source: 'buy', count: 20, supplier: 'mill', usedIn: [{ part: 'ribs', count: 1 }] },
  ],
});

let real: RealApp;
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(BUILD, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterEach(() => real.close());

const build = () => real.planner.build('lantern')!;
const plain = (html: string) => html.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0]+/g, ' ');

async function post(fields: Record<string, string>) {
  const answer = await real.app.inject({
    method: 'POST',
    url: '/b/lantern/wrong',
    payload: new URLSearchParams({ edit: String(build().revision), ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
  return { status: answer.statusCode, said: plain(answer.body), to: answer.headers.location };
}

const whatIf = (fields: Record<string, string>) => post({ ...fields, do: 'what-if' });
const tell = (fields: Record<string, string>) => post({ ...fields, do: 'tell' });

const TOMORROW = { kind: 'evening', person: '', from: '2026-12-01T09:00', until: '2026-12-01T17:00' };

describe('what goes wrong', () => {
  it('is one tap from the Countdown and from Count, with its least already typed', async () => {
    for (const path of ['', '/count']) {
      const { body } = await real.app.inject({ url: `/b/lantern${path}` });
      expect(body).toContain('href="/b/lantern/wrong?open=evening#evening"');
    }
    const { body } = await real.app.inject({ url: '/b/lantern/wrong?open=machine' });
    expect(body).toMatch(/<details class="trouble" id="machine" open/);
    expect(body).toMatch(/value="2026-12-01T13:00"/);
  });

  it('proposes hours that somebody has: the next ones, where today has none any more', async () => {
    const proposed = async (kind: string) => {
      const { body } = await real.app.inject({ url: `/b/lantern/wrong?open=${kind}` });
      const form = body.slice(body.indexOf(`id="${kind}"`));
      return [...form.slice(0, form.indexOf('</form>')).matchAll(/value="(2026-[^"]+)"/g)].map(([, value]) => value);
    };
    const only = (value: string) =>
      real.planner.edit('lantern', [{ kind: 'set', list: 'people', key: 'ana', field: 'hours', value }], 'Bo');
    expect(await proposed('evening')).toEqual(['2026-11-30T13:00', '2026-11-30T23:59']);
    expect((await only('wed-fri 18:00-22:00')).ok).toBe(true);
    expect(await proposed('evening')).toEqual(['2026-12-02T18:00', '2026-12-02T23:59']);
    expect(await proposed('absent')).toEqual(['2026-12-02', '2026-12-02']);
  });

  it('is tried first, with room and chance and the error of the difference, and nothing is told', async () => {
    const { status, said } = await whatIf(TOMORROW);
    expect(status).toBe(200);
    expect(said).toMatch(/Ready .* later/);
    expect(said).toMatch(/Chance: .* ±|no difference in any of/);
    expect(said).toContain('Nothing is saved yet');
    expect([build().revision, real.planner.log('lantern').length]).toEqual([1, 0]);
  });

  it('told of a day to come is a day that differs, and exactly what was shown', async () => {
    const { said } = await whatIf(TOMORROW);
    const shown = / With this (?:[^,]*?)(Wed|Thu|Fri|Sat) /.exec(said)?.[0];
    expect(shown).toBeDefined();
    expect((await tell(TOMORROW)).to).toBe('/b/lantern');
    expect(build().build.people![0]!.exceptions).toEqual([{ date: '2026-12-01', hours: 'off' }]);
    expect((await tell(TOMORROW)).said).toContain('They have no hours then');
  });

  it('told of today is an entry of the log, of one person, or of one machine of several', async () => {
    const now = { from: '2026-11-30T13:00', until: '2026-11-30T22:00' };
    expect((await tell({ kind: 'evening', person: 'ana', ...now })).status).toBe(303);
    expect((await tell({ kind: 'machine', machine: 'saw', n: '1', until: '2026-12-01T12:00' })).status).toBe(303);
    expect(real.planner.log('lantern')).toMatchObject([
      { kind: 'lost', person: 'ana', at: '2026-11-30T12:00:00.000Z', until: '2026-11-30T21:00:00.000Z' },
      { kind: 'lost', machine: 'saw', n: 1, until: '2026-12-01T11:00:00.000Z' },
    ]);
  });

  it('holds a late delivery against the promise, for an order that is out', async () => {
    const late = { kind: 'delivery', step: 'order-bolt', until: '2026-12-09T12:00' };
    expect((await whatIf(late)).said).toContain('For orders still to place, change the supplier under Hands');
    const at = '2026-11-30T11:00:00Z';
    real.planner.append(
      'lantern',
      [{ id: 'order-000000001', kind: 'ordered', step: 'order-bolt', n: 20, at }],
      'maker',
    );
    await real.planner.settled();
    expect((await whatIf(late)).said).toMatch(/Ready .* later/);
    expect((await tell(late)).status).toBe(303);
    expect(real.planner.log('lantern').at(-1)).toMatchObject({ kind: 'promised', until: '2026-12-09T11:00:00.000Z' });
  });

  it('moves the load-in, and the ready-by with it where that is ticked', async () => {
    expect((await tell({ kind: 'load-in', loadIn: '2026-12-03T09:00', ready: 'yes' })).status).toBe(303);
    expect(build().build).toMatchObject({ loadIn: '2026-12-03T09:00', readyBy: '2026-12-02T18:00' });
    const { status, said } = await whatIf({ kind: 'load-in', loadIn: '2026-12-09T09:00' });
    expect(status).toBeGreaterThanOrEqual(400);
    expect(said).toContain('The load-in must not be after the event');
  });

  it.each([
    [{ kind: 'evening', from: 'soon', until: '2026-12-01T17:00' }, 'Give the day and the hour, such as'],
    [{ kind: 'evening', from: '2026-12-01T17:00', until: '2026-12-01T09:00' }, 'Give an end that is later'],
    [{ kind: 'evening', person: 'tom', from: '2026-12-01T09:00', until: '2026-12-01T17:00' }, 'Choose somebody'],
    [{ kind: 'machine', machine: 'saw', n: '3', until: '2026-12-01T12:00' }, 'There are 2 of saw'],
    [{ kind: 'machine', machine: 'mill', until: '2026-12-01T12:00' }, 'Choose a machine of the plan'],
    [{ kind: 'machine', machine: 'saw', until: '2026-11-01T12:00' }, 'Give an hour later than now'],
    [{ kind: 'absent', person: 'ana', first: '2026-12-05', last: '2026-12-01' }, 'a last day that is not before'],
    [{ kind: 'absent', person: 'ana', first: '1 Dec', last: '' }, 'Give a day, such as 2026-12-03'],
    [{ kind: 'more', name: '', count: '2', minutes: '5' }, 'Say what it is'],
    [{ kind: 'more', name: 'Labels', count: '-2', minutes: '5' }, 'Give a whole number from 1 to 100 000'],
    [{ kind: 'more', name: 'Labels', count: '2', minutes: 'few' }, 'Give the minutes for one'],
    [{ kind: 'more', name: 'Labels', count: '2', minutes: '5', due: '2026-11-01T12:00' }, 'later than now'],
  ])('of bad input %j says what would be right, and loses nothing', async (fields, sentence) => {
    for (const send of [whatIf, tell]) {
      const { status, said } = await send(fields as Record<string, string>);
      expect(status).toBeGreaterThanOrEqual(400);
      expect(said).toContain(sentence);
    }
    expect([build().revision, real.planner.log('lantern').length]).toEqual([1, 0]);
    const kept = Object.values(fields)
      .filter((it) => it !== '')
      .at(-1)!;
    const { body } = await real.app.inject({
      method: 'POST',
      url: '/b/lantern/wrong',
      payload: new URLSearchParams({ edit: '1', ...(fields as Record<string, string>), do: 'tell' }).toString(),
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
    expect(body).toContain(`"${kept}"`);
  });
});

describe('one thing more', () => {
  const LABELS = { kind: 'more', name: 'Labels', count: '12', minutes: '20', due: '2026-12-01T18:00' };

  it('has its price in room and chance before it is taken on, and its own due then', async () => {
    const { said } = await whatIf(LABELS);
    expect(said).toMatch(/Ready .* later/);
    expect(said).toMatch(/Labels: done Tue 1 Dec .*; Labels:/);
    expect(build().revision).toBe(1);
    expect((await tell(LABELS)).to).toBe('/b/lantern');
    expect(build().build.parts!.at(-1)).toEqual({
      id: 'labels',
      name: 'Labels',
      source: 'make',
      count: 12,
      due: '2026-12-01T18:00',
    });
    expect(build().build.steps.at(-1)).toMatchObject({ part: 'labels', phases: [{ kind: 'hands', perUnit: 20 }] });
    await real.planner.settled();
    const countdown = await real.app.inject({ url: '/b/lantern' });
    expect(plain(countdown.body)).toMatch(/Labels .* Tue 1 Dec/);
    const dates = await real.app.inject({ url: '/b/lantern/dates' });
    expect(plain(dates.body)).toMatch(/18:00 due Labels/);
  });

  it('that is named by what is done is called so, and not made', async () => {
    const named = { ...LABELS, edit: String(build().revision), name: 'Letter the faces', due: '' };
    expect((await tell(named)).to).toBe('/b/lantern');
    expect(build().build.steps.at(-1)).toMatchObject({ name: 'Letter the faces', part: 'letter-the-faces' });
  });

  it('met by another edit meanwhile is refused, and what was typed stays', async () => {
    const answer = await post({ ...LABELS, edit: '7', do: 'tell' });
    expect(answer.status).toBe(409);
    expect(build().revision).toBe(1);
  });
});
