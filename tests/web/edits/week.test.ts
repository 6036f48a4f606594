/** A week of hours in the form of a person: picked by a tap, drawn by ticks, and refused where both differ. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { drawnHours, withDrawing } from '../../../server/web/edits/week.ts';
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
});
