import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { THING_LISTS } from '../../server/model/index.ts';
import { formValues, thingFromForm, tidyRows, withRowAction } from '../../server/web/edits/form-text.ts';
import { inLanguage } from '../../server/web/language.ts';
import { fakeBuild } from '../support/fake-build.ts';

const build = fakeBuild();

describe('the text of a form', () => {
  it('takes a decimal comma from whose language has it, even where others may mean a thousand', () => {
    const read = (quantity: string) => thingFromForm('parameters', { name: 'a', quantity });
    expect(inLanguage('de', () => ['3,5', '1,234', '1.25', '2,5 * a'].map(read))).toEqual([
      { name: 'a', value: 3.5 },
      { name: 'a', value: 1.234 },
      { name: 'a', value: 1.25 },
      { name: 'a', formula: '2,5 * a' },
    ]);
    expect(read('1,234')).toEqual({ name: 'a', formula: '1,234' });
  });

  it.each(THING_LISTS)('gives every thing of %s back as it was', (list) => {
    const things = build[list] ?? [];
    expect(things.length).toBeGreaterThan(0);
    for (const thing of things) expect(thingFromForm(list, formValues(list, thing as never))).toEqual(thing);
  });

  it('gives the fields of the build back as they were', () => {
    const lists: readonly string[] = [...THING_LISTS, 'id'];
    const own = Object.fromEntries(Object.entries(build).filter(([field]) => !lists.includes(field)));
    expect(thingFromForm('build', formValues('build', own))).toEqual(own);
  });

  it.each([
    ['4', { value: 4 }],
    ['-2.5', { value: -2.5 }],
    ['panels * 2', { formula: 'panels * 2' }],
    ['12 to 20, likely 14', { range: { low: 12, likely: 14, high: 20 } }],
    ['12 to 20', { formula: '12 to 20' }],
  ])('reads the quantity "%s"', (quantity, read) => {
    expect(thingFromForm('parameters', { name: 'a', quantity })).toEqual({ name: 'a', ...read });
  });

  it('reads a share in percent, where a share is asked for', () => {
    const part = (share: string) => thingFromForm('parts', { name: 'a', yield: share }).yield;
    expect(['95 %', '0.95', '7%', '12,5 %', 'most', '%'].map(part)).toEqual([0.95, 0.95, 0.07, 0.125, 'most', '%']);
    expect(thingFromForm('parts', { name: 'a', unitCost: '5 %' }).unitCost).toBe('5 %');
  });

  it.each([
    ['18 units in 45 min', { units: 18, minutes: 45 }],
    ['18 in 2 h', { units: 18, minutes: 120 }],
    ['3 to 6, likely 4', { low: 3, likely: 4, high: 6 }],
    ['2 * panels', '2 * panels'],
    ['1.5', 1.5],
    ['3,5', 3.5],
    ['0,125', 0.125],
    ['1,234', '1,234'],
    ['2,5 to 6,5, likely 3,5', { low: 2.5, likely: 3.5, high: 6.5 }],
    ['4 units in 1,5 h', { units: 4, minutes: 90 }],
  ])('reads the estimate "%s"', (perUnit, read) => {
    const step = thingFromForm('steps', { name: 'a', 'phases.0.kind': 'hands', 'phases.0.perUnit': perUnit });
    expect(step.phases).toEqual([{ kind: 'hands', perUnit: read }]);
  });

  it('keeps what is no number as the text it is, to be refused by the model', () => {
    expect(thingFromForm('machines', { name: 'printer', count: 'two' })).toEqual({ name: 'printer', count: 'two' });
    expect(thingFromForm('machines', { name: 'printer', count: '1e400' })).toEqual({ name: 'printer', count: '1e400' });
  });

  it('leaves out what belongs to another kind of phase', () => {
    const values = { name: 'a', 'phases.0.kind': 'wait', 'phases.0.minutes': '4 h', 'phases.0.machine': 'printer' };
    expect(thingFromForm('steps', values).phases).toEqual([{ kind: 'wait', minutes: '4 h' }]);
  });
});

describe('rows of a form', () => {
  const pattern = {
    'phases.0.kind': 'hands',
    'phases.0.minutes': '8',
    'phases.1.kind': 'wait',
    'phases.1.minutes': '240',
  };
  const kinds = (values: Readonly<Record<string, unknown>>) =>
    Object.entries(values)
      .filter(([key]) => key.endsWith('.kind'))
      .sort()
      .map(([, value]) => value);

  it('are added at the end', () => {
    expect(kinds(withRowAction('steps', pattern, 'add:phases:run'))).toEqual(['hands', 'wait', 'run']);
  });

  it('change places with all that is in them', () => {
    const moved = withRowAction('steps', pattern, 'up:phases:1');
    expect(kinds(moved)).toEqual(['wait', 'hands']);
    expect(moved['phases.1.minutes']).toBe('8');
  });

  it('are taken out', () => {
    expect(kinds(withRowAction('steps', pattern, 'drop:phases:0'))).toEqual(['wait']);
  });

  it('stay as they are at the ends and for buttons that are not known', () => {
    expect(kinds(withRowAction('steps', pattern, 'up:phases:0'))).toEqual(['hands', 'wait']);
    expect(kinds(withRowAction('steps', pattern, 'down:phases:1'))).toEqual(['hands', 'wait']);
    expect(withRowAction('steps', pattern, 'add:nothing:run')).toEqual(pattern);
  });

  it('are numbered anew without the blank ones', () => {
    const values = {
      name: 'crank',
      'usedIn.0.part': '',
      'usedIn.0.count': '',
      'usedIn.1.part': 'fish',
      'usedIn.1.count': '2',
    };
    expect(tidyRows('parts', values)).toEqual({ name: 'crank', 'usedIn.0.part': 'fish', 'usedIn.0.count': '2' });
  });

  it('never break on any names and texts that a browser may send', () => {
    const key = fc.oneof(
      fc.string(),
      fc.constantFrom(
        'phases.0.kind',
        'phases.9.__proto__',
        '__proto__',
        'after.1.step',
        'phases.99999.kind',
        'sets.count',
      ),
    );
    const value = fc.oneof(fc.string(), fc.array(fc.string(), { maxLength: 3 }));
    fc.assert(
      fc.property(fc.constantFrom(...THING_LISTS), fc.dictionary(key, value), fc.string(), (list, values, action) => {
        const tidy = tidyRows(list, withRowAction(list, values, action));
        expect(thingFromForm(list, tidy)).toBeTypeOf('object');
      }),
      { seed: 20261205, numRuns: 300 },
    );
  });
});
