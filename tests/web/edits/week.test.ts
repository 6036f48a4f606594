/** A week of hours in the form of a person: picked by a tap, drawn by ticks, and refused where both differ. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readHours } from '../../../server/engine/index.ts';
import { drawnHours, usualHours, withDrawing } from '../../../server/web/edits/week.ts';
import { inLanguage } from '../../../server/web/language.ts';
import { type FakeApp, fakeApp } from '../../support/fake-app.ts';

let fake: FakeApp;
beforeEach(async () => {
  fake = await fakeApp();
});
afterEach(() => fake.close());

function post(fields: Record<string, string | readonly string[]>) {
  const body = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) for (const one of [value].flat()) body.append(name, one);
  return fake.app.inject({
    method: 'POST',
    url: '/b/tide-wall/hands?open=people/maker',
    payload: body.toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

const revision = () => String(fake.planner.build('tide-wall')!.revision);
const hours = () => fake.planner.build('tide-wall')!.build.people!.find(({ id }) => id === 'maker')!.hours;
const typedIn = (html: string) => /name="hours"[^>]* value="([^"]*)"/.exec(html)?.[1];

describe('the hours of a person', () => {
  it('may be said by their kind alone, and are saved as the hours that stand for it', async () => {
    expect((await post({ edit: revision(), name: 'Maker', hours: 'evenings, weekend days' })).statusCode).toBe(303);
    expect(hours()).toBe('Mon to Fri 18:00 to 22:00; Sat, Sun 09:00 to 18:00');
    expect(usualHours('working days and weekends')).toBe('Mon to Fri 09:00 to 17:00; Sat, Sun 09:00 to 18:00');
    for (const said of ['evenings 18-21, weekend 9-18', 'evenings, mon 9-12', 'whenever', '', 'always']) {
      expect(usualHours(said)).toBe(said);
    }
  });

  it('are filled by taps, one behind the other, and saved as they then read', async () => {
    const first = await post({ edit: revision(), name: 'Maker', hours: '', do: 'week:evenings' });
    expect(typedIn(first.body)).toBe('Mon to Fri 18:00 to 22:00');
    const both = 'Mon to Fri 18:00 to 22:00; Sat, Sun 09:00 to 18:00';
    const second = await post({ edit: revision(), name: 'Maker', hours: typedIn(first.body)!, do: 'week:weekend' });
    expect(typedIn(second.body)).toBe(both);
    expect(second.body).toMatch(/value="6-17"[^>]* checked/);
    expect((await post({ edit: revision(), name: 'Maker', hours: both })).statusCode).toBe(303);
    expect(hours()).toBe(both);
  });

  it('are taken as drawn where only the drawing was changed, and refused where both were', async () => {
    const drawn = withDrawing('people', { hours: 'sat 09:00-11:00' });
    expect(drawn.week).toEqual(['5-9', '5-10']);
    const fields = {
      edit: revision(),
      name: 'Maker',
      'week-from': 'sat 09:00-11:00',
      week: ['5-9', '5-10', '6-22', '6-23'],
    };
    const refused = await post({ ...fields, hours: 'mon 09:00-11:00' });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('The hours are typed as');
    expect((await post({ ...fields, hours: 'sat 09:00-11:00' })).statusCode).toBe(303);
    expect(hours()).toBe('Sat 09:00 to 11:00; Sun 22:00 to 24:00');
  });

  it('stay as typed to the minute where nothing was drawn', () => {
    const values = withDrawing('people', { hours: 'fri 18:30-22:15' });
    expect(values.week).toEqual(['4-18', '4-19', '4-20', '4-21', '4-22']);
    expect(drawnHours('people', { ...values })).toEqual({ ok: true, value: values });
    expect(withDrawing('suppliers', { name: 'yard' })).toEqual({ name: 'yard' });
  });

  it('are written as they are read, whatever language the sheet is in', () => {
    const drawn = { hours: '', 'week-from': '', week: ['5-9', '5-10', '6-22'] };
    const taken = inLanguage('de', () => drawnHours('people', drawn));
    expect(taken).toMatchObject({ ok: true, value: { hours: 'Sat 09:00 to 11:00; Sun 22:00 to 23:00' } });
  });

  it('keep their minutes in every hour that the drawing leaves ticked, over random weeks', () => {
    const minute = fc.nat(24 * 4 - 1).map((quarter) => quarter * 15);
    const clock = (at: number) => `${String(Math.floor(at / 60)).padStart(2, '0')}:${String(at % 60).padStart(2, '0')}`;
    const days = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat'];
    const spans = fc.uniqueArray(fc.record({ day: fc.constantFrom(...days), from: minute, to: minute }), {
      selector: ({ day }) => day,
      maxLength: 5,
    });
    fc.assert(
      fc.property(spans, fc.nat(22), (given, hour) => {
        const typed = given
          .filter(({ from, to }) => from < to)
          .map((it) => `${it.day} ${clock(it.from)}-${clock(it.to)}`);
        const values = withDrawing('people', { hours: typed.join('; ') });
        const drawn = drawnHours('people', { ...values, week: [...(values.week ?? []), `6-${hour}`] });
        const own = `sun ${clock(hour * 60)}-${clock((hour + 1) * 60)}`;
        expect(drawn.ok && readHours(String(drawn.value.hours))).toEqual(readHours([...typed, own].join('; ')));
      }),
    );
  });
});
