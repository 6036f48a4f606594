import ICAL from 'ical.js';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { calendarFile } from '../../../server/web/calendar-file.ts';
import { calendarTexts } from '../../../views/texts/paper/calendar.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { BUILD, type CountApp, countApp } from '../../support/count-app.ts';

let bench: CountApp;
let maker: string;

beforeEach(async () => {
  bench = await countApp();
  maker = bench.makerCookie();
});
afterEach(() => bench.close());

function post(fields: Record<string, string>) {
  return bench.app.inject({
    method: 'POST',
    url: `/b/${BUILD}/calendar`,
    payload: new URLSearchParams(fields).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded', cookie: maker },
  });
}

const made = async (fields: Record<string, string>) => {
  const { body } = await post(fields);
  return /id="address"[^>]*value="https?:\/\/[^/]+([^"]+)"/.exec(body)?.[1] ?? '';
};
const events = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));
const uids = (text: string) => [...text.matchAll(/^UID:(.*)\r$/gm)].map(([, uid]) => uid);

describe('a calendar address', () => {
  it('is shown once, and gives a calendar to whoever has it', async () => {
    const address = await made({ person: '', alarm: '1440' });
    expect(address).toMatch(/^\/calendar\/[\w-]{43}\.ics$/);
    const answer = await bench.app.inject({ url: address });
    expect([answer.statusCode, answer.headers['content-type']]).toEqual([200, 'text/calendar; charset=utf-8']);
    expect(answer.body).toContain('TRIGGER:-PT1440M');
    const list = await bench.app.inject({ url: `/b/${BUILD}/calendar`, headers: { cookie: maker } });
    expect(list.body).toContain('Remove the address of Everything');
    expect(list.body).not.toContain(address);
  });

  it('says that it was ended, and a wrong one that there is none', async () => {
    const address = await made({ person: '' });
    expect((await post({ end: '1' })).statusCode).toBe(303);
    const ended = await bench.app.inject({ url: address, headers: { accept: 'application/json' } });
    expect([ended.statusCode, ended.json().problem]).toEqual([410, calendarTexts.ended]);
    const again = await post({ end: '1' });
    expect(again.statusCode).toBe(404);
    const wrong = await bench.app.inject({ url: address.replace(/.{6}\.ics/, 'AAAAAA.ics') });
    expect(wrong.statusCode).toBe(404);
  });

  it('keeps the stamp of what has not changed, however often it is fetched, and for each language its own', async () => {
    const address = await made({ person: '' });
    const stamps = async (language = 'en') => {
      const { body } = await bench.app.inject({ url: address, headers: { 'accept-language': language } });
      return [...body.matchAll(/^UID:.*\r\nDTSTAMP:.*\r\nSEQUENCE:\d+\r\nDTSTART:.*\r\n/gm)].map(([all]) => all);
    };
    const first = await stamps();
    expect(first.length).toBeGreaterThan(5);
    bench.clock.nowMs += 30 * 60_000;
    bench.planner.tick();
    await bench.planner.settled();
    await stamps('de');
    expect(await stamps()).toEqual(first);
  });

  it('is not made for somebody who is not there, nor with an alarm that is no number', async () => {
    const stranger = await post({ person: 'zoe' });
    expect(stranger.statusCode).toBe(422);
    expect(stranger.body).toContain('Nobody in this build is called &quot;zoe&quot;; its people are maker, helper.');
    expect((await post({ alarm: 'soon' })).statusCode).toBe(422);
    expect((await post({ alarm: '10081' })).statusCode).toBe(422);
    expect((await post({ end: 'all' })).statusCode).toBe(404);
    expect(bench.store.feeds.of(BUILD)).toEqual([]);
  });
});

describe('the calendar of a plan', () => {
  const NOW = 29_770_000;
  const { build, log = [] } = tideWall(NOW);
  const fileAt = (now: number, person: string | null = null, alarmMinutes: number | null = null) =>
    calendarFile(build, planBuild(build, log, now, { levelling: { seed: 1, schedules: 1 } }), { person, alarmMinutes });

  it('has last moments, deliveries, loads, days, checks and the fixed hours, each under a name of its own', () => {
    const text = fileAt(NOW, null, 120);
    const kinds = uids(text).map((uid) => uid!.replace(/^\d+\./, '').split('.')[0]);
    const all = ['order-by', 'delivery', 'decide-by', 'load', 'check', 'day', 'ready-by', 'load-in', 'event'];
    expect(new Set(kinds)).toEqual(new Set(all));
    expect(new Set(uids(text)).size).toBe(uids(text).length);
    expect(events(text)).toHaveLength(kinds.length);
    const [show] = events(text).filter(({ uid }) => uid.startsWith('event.'));
    expect(show?.startDate.toJSDate().getTime()).toBe(Date.parse(`${build.event}:00Z`));
    for (const { startDate, endDate } of events(text)) {
      expect(endDate.toJSDate().getTime()).toBeGreaterThanOrEqual(startDate.toJSDate().getTime());
    }
  });

  it('keeps the names of its events from one plan to the next, and from one export to another', () => {
    expect(fileAt(NOW)).toBe(fileAt(NOW));
    const fixed = (text: string) => uids(text).filter((uid) => !/^(load|day)\./.test(uid!));
    expect(fixed(fileAt(NOW + 60)).sort()).toEqual(fixed(fileAt(NOW)).sort());
  });

  it('gives an event a new stamp and the next sequence where it has changed, and nothing else', () => {
    const eventsOf = (given: Build, now: number) => {
      const forecast = planBuild(given, log, now, { levelling: { seed: 1, schedules: 1 } });
      const text = calendarFile(given, forecast, { person: null, alarmMinutes: null }, (told) =>
        bench.store.feeds.stamped(BUILD, 'en', told, now),
      );
      const all = text.matchAll(/^UID:(.*)\r\nDTSTAMP:(.*)\r\nSEQUENCE:(\d+)\r\n([\s\S]*?)END:VEVENT/gm);
      return new Map(
        [...all].map(([, uid, stamp, sequence, rest]) => [uid!, { stamp, sequence: Number(sequence), rest }]),
      );
    };
    const before = eventsOf(build, NOW);
    const after = eventsOf({ ...build, event: build.event.replace(/T.*/, 'T20:05') }, NOW + 60);
    const kinds = { same: 0, changed: 0 };
    for (const [uid, { stamp, sequence, rest }] of after) {
      const was = before.get(uid);
      if (was === undefined) expect(sequence).toBe(0);
      else if (was.rest === rest) expect([uid, stamp, sequence]).toEqual([uid, was.stamp, was.sequence]);
      else expect([uid, sequence, stamp! > was.stamp!]).toEqual([uid, was.sequence + 1, true]);
      if (was !== undefined) kinds[was.rest === rest ? 'same' : 'changed']++;
    }
    expect(kinds.same).toBeGreaterThan(5);
    expect(after.get('event.tide-wall@daywright')).toMatchObject({ sequence: 1 });
  });

  it('has for one person the days of that person, and the hours that all share', () => {
    const text = fileAt(NOW, 'jo');
    const names = uids(text);
    expect(names.filter((uid) => uid!.startsWith('day.')).every((uid) => uid!.includes('.jo.'))).toBe(true);
    expect(names.some((uid) => uid!.startsWith('day.'))).toBe(true);
    expect(names.some((uid) => /^(order-by|decide-by|delivery)\./.test(uid!))).toBe(false);
    expect(names).toContain('event.tide-wall@daywright');
    expect(text).not.toContain('VALARM');
  });
});

describe('what should have been ordered', () => {
  const NOW = Date.parse('2026-11-29T16:30Z') / 60_000;
  const build: Build = {
    ...{ id: 'gate', name: 'Gate', zone: 'UTC', start: '2026-11-20T08:00', event: '2026-12-09T18:00' },
    parts: [
      { id: 'shell', name: 'Shell', source: 'send-out', count: 12, supplier: 'cutter' },
      { id: 'motor', name: 'Motor', source: 'send-out', count: 3, supplier: 'cutter' },
    ],
    suppliers: [{ id: 'cutter', name: 'Cutter', lead: 8 }],
    people: [{ id: 'me', name: 'Me', hours: 'daily 08:00-18:00' }],
    steps: [
      { id: 'fit', name: 'Fit', part: 'shell', uses: ['motor'], phases: [{ kind: 'hands', perUnit: 60 }] },
      { id: 'wash', name: 'Wash', part: 'motor', phases: [{ kind: 'hands', perUnit: 5 }] },
    ],
  };
  const ordered: LogEntry = { id: 'motor-001', kind: 'ordered', step: 'order-motor', n: 3, at: '2026-11-29T10:00:00Z' };
  const forecast = planBuild(build, [ordered], NOW, { levelling: { seed: 1, schedules: 1 } });

  it('has its reminder still, at the next cut-off of the supplier; what is on its way has its delivery alone', () => {
    expect(forecast.orders.map(({ part, state }) => [part, state])).toEqual(
      expect.arrayContaining([
        ['shell', 'late'],
        ['motor', 'ordered'],
      ]),
    );
    const text = calendarFile(build, forecast, { person: null, alarmMinutes: 120 });
    const orders = uids(text).filter((uid) => /^(order-by|delivery)/.test(uid!));
    expect(orders.map((uid) => uid!.split('.gate@')[0]).sort()).toEqual([
      'delivery.order-motor',
      'delivery.order-shell',
      'order-by.order-shell',
    ]);
    const [, late] = /UID:order-by\.order-shell.*?(DTSTART:.*?END:VEVENT)/s.exec(text)!;
    expect(late).toMatch(/DTSTART:20261130T170000Z\r\nSUMMARY:Should have been ordered: 12\W+×\W+Shell/);
    expect(late).toContain('BEGIN:VALARM');
    // An hour later the same order is late by an hour more; it is on the phone where it was.
    const again = planBuild(build, [ordered], NOW + 60, { levelling: { seed: 1, schedules: 1 } });
    expect(calendarFile(build, again, { person: null, alarmMinutes: 120 })).toContain(late);
  });

  it('says of a supplier that they have no working day left before the event', () => {
    const holidays = Array.from({ length: 31 }, (_, i) =>
      new Date(Date.UTC(2026, 10, 29 + i)).toISOString().slice(0, 10),
    );
    const closed = { ...build, suppliers: build.suppliers!.map((supplier) => ({ ...supplier, holidays })) };
    const text = calendarFile(closed, planBuild(closed, [], NOW, { levelling: { seed: 1, schedules: 1 } }), {
      ...{ person: null, alarmMinutes: null },
    });
    const late = events(text).find(({ uid }) => uid.startsWith('order-by.order-shell'));
    expect(late?.description).toMatch(/^the supplier has no working day left before the event \(the next is .*\)\n/);
  });
});

describe('a machine that has been loaded', () => {
  const NOW = Date.parse('2026-11-30T08:00Z') / 60_000;
  const build: Build = {
    ...{ id: 'gate', name: 'Gate', zone: 'UTC', start: '2026-11-20T08:00', event: '2026-12-09T18:00' },
    parts: [{ id: 'cap', name: 'Cap', source: 'make', count: 12 }],
    people: [{ id: 'me', name: 'Me', hours: 'daily 08:00-18:00' }],
    machines: [{ id: 'printer', name: 'Printer', unattended: true }],
    steps: [
      {
        ...{ id: 'print', name: 'Print', part: 'cap', lotSize: 6 },
        phases: [
          { kind: 'hands', minutes: 10 },
          { kind: 'run', machine: 'printer', minutes: 120 },
        ],
      },
    ],
  };
  const loaded: LogEntry = { id: 'cap-001', kind: 'loaded', step: 'print', n: 6, at: '2026-11-30T08:14:00Z' };
  const loads = (now: number, log: readonly LogEntry[]) => {
    const forecast = planBuild(build, log, now, { levelling: { seed: 1, schedules: 1 } });
    const text = calendarFile(build, forecast, { person: null, alarmMinutes: null });
    return [...text.matchAll(/^UID:(load\..*)\.gate@daywright\r\n(?:.*\r\n)*?DTSTART:(.*)\r$/gm)].map(
      ([, ...is]) => is,
    );
  };

  it('keeps its event at the instant that was logged, whenever the plan is made, until it has run', () => {
    const [planned] = loads(NOW, []);
    expect(planned).toEqual(['load.print.0.1', '20261130T081000Z']);
    for (const minutes of [15, 60, 130]) {
      expect(loads(NOW + minutes, [loaded])[0]).toEqual(['load.print.0.1', '20261130T081400Z']);
    }
    const done: LogEntry = { id: 'cap-002', kind: 'done', step: 'print', n: 6, at: '2026-11-30T10:15:00Z' };
    expect(loads(NOW + 140, [loaded, done]).map(([uid]) => uid)).toEqual(['load.print.0.7']);
  });
});
