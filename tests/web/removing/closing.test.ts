/**
 * A build is closed after its show: it is read everywhere, and nothing of it is changed or counted, until it is
 * reopened.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Change } from '../../../server/model/index.ts';
import { createPlanner } from '../../../server/planner/index.ts';
import { hashOf, newToken } from '../../../server/web/secrets.ts';
import { byHand, SHORT_PAUSES } from '../../planner/at-once.ts';
import { BUILD, type CountApp, countApp, countedForecast } from '../../support/count-app.ts';
import { SHEETS } from '../../support/sheets.ts';

/** After the event on 2026-12-05. */
const AFTER_MS = Date.parse('2026-12-06T10:00:00Z');
const COUNT = { kind: 'done', step: 'press', n: 2, at: '2026-12-05T12:00:00Z' } as const;
const NOTED: Change = { kind: 'set', list: 'build', field: 'note', value: 'over' };

let bench: CountApp;
let cookie: string;
beforeAll(async () => {
  bench = await countApp();
  cookie = bench.makerCookie();
});
afterAll(() => bench.close());

async function ask(path: string, form?: Record<string, string>) {
  const headers = { cookie, accept: 'text/html', 'content-type': 'application/x-www-form-urlencoded' };
  const body = form === undefined ? {} : { method: 'POST' as const, payload: new URLSearchParams(form).toString() };
  const { statusCode, body: html } = await bench.app.inject({ url: `/b/${BUILD}${path}`, headers, ...body });
  return { status: statusCode, html };
}

async function send(ids: readonly string[], who: Record<string, string> = { cookie }) {
  const payload = { entries: ids.map((id) => ({ ...COUNT, id })) };
  const answer = await bench.app.inject({ method: 'POST', url: `/b/${BUILD}/entries`, headers: who, payload });
  return { status: answer.statusCode, retry: answer.headers['retry-after'], ...(answer.json() as object) };
}

const log = () => bench.planner.log(BUILD).map(({ id }) => id);
const revision = () => bench.planner.build(BUILD)!.revision;

describe('a build', () => {
  it('is closed by its maker once its event is over, and not before', async () => {
    expect((await ask('/after')).html).toContain('can be closed once its event is over');
    const early = await ask('/close', {});
    expect([early.status, early.html]).toEqual([423, expect.stringContaining('its event is still to come')]);
    bench.clock.nowMs = AFTER_MS;
    cookie = bench.makerCookie();
    expect(await send(['count-0001'])).toMatchObject({ status: 200, receipts: [{ state: 'stored' }] });
    await bench.planner.settled();
    expect(bench.planner.closeBuild(BUILD, 'maker').ok).toBe(true);
    const again = await ask('/close', {});
    expect([again.status, again.html]).toEqual([423, expect.stringContaining('closed by maker on 2026-12-06 11:00')]);
  });

  it('that is closed says so on every sheet, and in the list of builds', async () => {
    for (const path of [...SHEETS.filter((one) => one !== '/keys'), '/count']) {
      const { status, html } = await ask(path);
      expect([path, status, /Closed by maker on Sun 6 Dec 11:00/.test(html)]).toEqual([path, 200, true]);
    }
    const list = await bench.app.inject({ url: '/', headers: { cookie, accept: 'text/html' } });
    expect(list.body).toMatch(/log, closed|entr\w+, closed/);
  });

  it('that is closed offers no form that would change it, nor a link to one, whatever is asked to be opened', async () => {
    const kept = /\/(calendar|keys|waits|reopen|remove|light|language|after|codes|end|helpers\S*)$/;
    const opened = [
      '/contents?open=build',
      '/design?open=parts/new',
      '/steps?open=steps/press',
      '/steps?open=gates/new',
    ];
    const found: string[] = [];
    for (const path of [
      ...SHEETS,
      ...opened,
      '/show?open=boxes/new',
      '/hands?open=people/new',
      '/wrong?open=delivery',
    ]) {
      const { html } = await ask(path);
      const forms = [...html.matchAll(/<form[^>]*?(?:action|hx-post)="([^"]*)"/g)].map(([, action]) => action!);
      found.push(...forms.filter((action) => !kept.test(action)).map((action) => `${path}: ${action}`));
      found.push(...(html.match(/class="(?:change|pin)"[^>]*>/g) ?? []).map((link) => `${path}: ${link}`));
    }
    expect(found).toEqual([]);
  });

  it('that is closed takes no edit, whichever way it comes', async () => {
    const before = revision();
    const { planner } = bench;
    const closed = { ok: false, problems: [{ code: 'closed', message: expect.stringContaining('closed by maker') }] };
    expect(await planner.edit(BUILD, [NOTED], 'maker')).toMatchObject(closed);
    expect(await planner.takeBack(BUILD, 1, 'maker')).toMatchObject(closed);
    expect(await planner.undo(BUILD, 1, 'maker')).toMatchObject(closed);
    expect(planner.ripple(BUILD, [NOTED], before)).toMatchObject(closed);
    expect(await planner.whatIf(BUILD, [NOTED], before)).toMatchObject(closed);
    const option = { name: 'other', changes: [NOTED], who: 'maker', expected: before };
    expect(planner.keepOption(BUILD, option)).toMatchObject(closed);
    const form = await ask('/history', { back: '1', edit: String(before) });
    expect(form.status).toBeGreaterThanOrEqual(400);
    expect(revision()).toBe(before);
  });

  it('that is closed takes no count: phones and programs keep theirs, and what it knows it answers', async () => {
    const key = { authorization: `Bearer ${bench.key('scale')}` };
    for (const who of [{ cookie }, { cookie: bench.helperCookie('Ana') }, key]) {
      expect(await send(['count-0002', 'count-0003'], who)).toMatchObject({
        status: 423,
        retry: '30',
        problem: expect.stringContaining('nothing of it can be changed or counted until it is reopened'),
      });
    }
    expect(await send(['count-0001', 'count-0004'])).toMatchObject({
      status: 200,
      receipts: [{ id: 'count-0001', state: 'known' }],
    });
    // A phone that only says hello is answered, so that its page goes on.
    expect(await send([])).toMatchObject({ status: 200, receipts: [] });
    const [pressed] = bench.planner.append(BUILD, [{ ...COUNT, id: 'count-0005' }], 'maker');
    expect(pressed).toMatchObject({ state: 'refused', problems: [{ code: 'closed' }] });
    expect(log()).toEqual(['count-0001']);
  });

  it('that is closed is not planned any more, by the time that passes nor by a start', async () => {
    const at = bench.planner.latest(BUILD)!.computedAt;
    bench.clock.nowMs = AFTER_MS + 3 * 3_600_000;
    bench.planner.tick();
    expect((await ask('')).status).toBe(200);
    await bench.planner.settled();
    expect(bench.planner.latest(BUILD)).toMatchObject({ computedAt: at, stale: false });
    let plans = 0;
    const background = byHand((...task) => {
      plans += 1;
      return countedForecast(...task);
    });
    const now = () => Math.floor(bench.clock.nowMs / 60_000);
    const second = createPlanner({ store: bench.store, now, background, pauses: SHORT_PAUSES });
    second.resume();
    const shown = await second.snapshot(BUILD);
    await second.settled();
    second.close();
    expect(shown).toMatchObject({ computedAt: at, stale: false });
    expect([plans, second.jobs(BUILD)]).toEqual([0, []]);
  });

  it('that is closed lets in no key, no helper and no calendar address, and says why in place of the form', async () => {
    const pages = [
      ['/keys', { name: 'scale' }, 'id="key-name"'],
      ['/helpers', {}, '/helpers/codes"'],
      ['/calendar', { person: '', alarm: 'none' }, 'Make an address'],
    ] as const;
    for (const [path, fields, form] of pages) {
      const { status, html } = await ask(path);
      expect([path, status, html.includes(form), /closed by maker/.test(html)]).toEqual([path, 200, false, true]);
      const made = await ask(path === '/helpers' ? '/helpers/codes' : path, fields);
      expect([path, made.status]).toEqual([path, 423]);
    }
    expect((await ask('/count')).html).not.toContain('class="plain-count"');
  });

  it('that is closed keeps its calendar, without alarms', async () => {
    const token = newToken();
    bench.store.feeds.add(BUILD, { person: null, alarmMinutes: 120, tokenHash: hashOf(token), createdAt: 0 });
    const closed = await bench.app.inject(`/calendar/${token}.ics`);
    expect([closed.statusCode, closed.body.includes('VALARM')]).toEqual([200, false]);
    expect(bench.planner.reopenBuild(BUILD).ok).toBe(true);
    expect((await bench.app.inject(`/calendar/${token}.ics`)).body).toContain('VALARM');
    expect(bench.planner.closeBuild(BUILD, 'maker').ok).toBe(true);
  });

  it('that is reopened is edited and counted again, with all that was kept meanwhile', async () => {
    expect((await ask('/reopen', {})).status).toBe(303);
    expect(await send(['count-0002', 'count-0003'])).toMatchObject({
      status: 200,
      receipts: [{ state: 'stored' }, { state: 'stored' }],
    });
    expect(log()).toEqual(['count-0001', 'count-0002', 'count-0003']);
    expect((await bench.planner.edit(BUILD, [NOTED], 'maker')).ok).toBe(true);
    expect((await ask('/steps')).html).toContain('class="change"');
    expect((await ask('/after')).html).not.toContain('Closed by maker');
  });

  it('that is closed can be removed with its file kept, and comes back closed', async () => {
    expect(bench.planner.closeBuild(BUILD, 'maker').ok).toBe(true);
    const after = await ask('/after');
    expect(after.html).toContain(`href="/b/${BUILD}/file.json"`);
    const file = await bench.app.inject({ url: `/b/${BUILD}/file.json`, headers: { cookie } });
    expect((file.json() as { log: unknown[] }).log).toHaveLength(3);
    expect((await ask('/remove', { edit: String(revision()) })).status).toBe(303);
    const [removed] = bench.planner.removed();
    expect(bench.planner.bringBack(removed!.key).ok).toBe(true);
    expect(bench.planner.closed(BUILD)).toMatchObject({ who: 'maker' });
  });
});
