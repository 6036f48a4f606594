/** Lines of plain words, read into parts, steps, orders and tests. */
import { describe, expect, it } from 'vitest';
import { type Build, readLines } from '../../../../server/model/index.ts';

const EMPTY: Build = { id: 'ceiling', name: 'Ceiling', zone: 'America/New_York', event: '2027-01-15T18:00', steps: [] };

const read = (text: string, build = EMPTY) => readLines(text, build);
/** Somebody loads or unloads. */
const HANDS = { kind: 'hands', minutes: 5 };
const first = (text: string, build = EMPTY) => read(text, build).lines[0]!;

describe('a line', () => {
  it('makes a part of a count and a name, an order of a supplier and days, steps of what is done to it', () => {
    const { build, lines } = read('160 slats, joiner, 5 days; oil 2 coats 3 min each, dry 6 h; hang 4 min');
    expect(lines[0]!.wrong).toBe(null);
    expect(build.parts).toEqual([{ id: 'slats', name: 'Slats', source: 'send-out', count: 160, supplier: 'joiner' }]);
    expect(build.suppliers).toEqual([{ id: 'joiner', name: 'Joiner', lead: 5 }]);
    const coat = [
      { kind: 'hands', perUnit: 3 },
      { kind: 'wait', minutes: 360 },
    ];
    expect(build.steps).toEqual([
      {
        id: 'oil-slats',
        name: 'Oil slats',
        part: 'slats',
        phases: [...coat, ...coat],
        hazards: ['solvent-rags'],
        hazardsGuessed: true,
        origin: 'guessed',
      },
      {
        id: 'hang-slats',
        name: 'Hang slats',
        part: 'slats',
        phases: [{ kind: 'hands', perUnit: 4 }],
        hazards: ['height', 'overhead', 'lifting'],
        hazardsGuessed: true,
        origin: 'guessed',
      },
    ]);
    expect(lines[0]!.assumed.map(({ code }) => code)).toEqual([
      'sent-out',
      'lots',
      'each',
      'lots',
      'hazards',
      'hazards',
    ]);
  });

  it.each([
    ['5 x 32 slats', { count: 160 }],
    ['twelve slats', { count: 12 }],
    ['12 slats, 3 spares, 95 % good, 2 here, €4 each', { count: 12, spares: 3, yield: 0.95, onHand: 2, unitCost: 4 }],
    ['12 slats, 10 % scrap', { count: 12, yield: 0.9 }],
    ['12 slats, bought from the metal shop, 3 to 7 days', { count: 12, source: 'buy', supplier: 'metal-shop' }],
    ['12 slats, from the joiner 2 weeks', { count: 12, source: 'send-out', supplier: 'joiner' }],
  ])('%s', (line, part) => {
    expect(read(line).build.parts![0]).toMatchObject(part);
  });

  it.each([
    ['3 h 20', 200],
    ['3h20', 200],
    ['2h30', 150],
    ['1.5 h', 90],
    ['1,5 h', 90],
    ['half an hour', 30],
    ['an hour', 60],
    ['90 min', 90],
    ['45 s', 0.75],
    ['2 h 30 min', 150],
    ['3 to 5 min', { low: 3, likely: 4, high: 5 }],
    ['18 in 45 min', { units: 18, minutes: 45 }],
  ])('takes "%s" for a time', (time, perUnit) => {
    expect(read(`7 posts, sand ${time} each`).build.steps[0]!.phases).toEqual([{ kind: 'hands', perUnit }]);
  });

  it.each([
    ['90 strikers, on a plate of 6, 3 h 20 at night', 'print-strikers'],
    ['90 strikers, print 3 h 20 a plate, plate of 6, overnight', 'print-strikers'],
    ['90 strikers, print 3 h 20 a plate, 6 somewhere', null],
    ['90 strikers, print on a plate of 6 3h20 at night', 'print-strikers'],
  ])('lets a machine do what lies on a plate: %s', (line, id) => {
    const { build, lines } = read(line);
    if (id === null) {
      expect(lines[0]!.wrong).not.toBe(null);
      return;
    }
    expect(build.machines).toEqual([{ id: 'printer', name: 'Printer', unattended: true, overnight: true }]);
    expect(build.steps[0]).toMatchObject({
      id,
      lotSize: 6,
      phases: [HANDS, { kind: 'run', machine: 'printer', minutes: 200 }, HANDS],
    });
    expect(lines[0]!.assumed).toContainEqual({
      code: 'new-machine',
      machine: 'Printer',
      unattended: true,
      overnight: true,
    });
  });

  it('has somebody load and unload a machine that runs alone, as it says, or for five minutes each, assumed', () => {
    const patternOf = (line: string, build = EMPTY) => {
      const { build: after, lines } = read(line, build);
      expect([line, lines[0]!.wrong]).toEqual([line, null]);
      const assumed = lines[0]!.assumed.find(({ code }) => code === 'loading') ?? null;
      return { pattern: after.steps[0]!.phases!.map((phase) => ('minutes' in phase ? phase.minutes : 0)), assumed };
    };
    const assumed = { code: 'loading', step: 'Print cams', load: 5, unload: 5 };
    expect(patternOf('96 cams, print 8 in 3 h')).toEqual({ pattern: [5, 180, 5], assumed });
    expect(patternOf('96 cams, print 8 in 3 h at night, load 10 min')).toEqual({
      pattern: [10, 180, 5],
      assumed: null,
    });
    expect(patternOf('96 cams, print 8 in 3 h, load 10 min, unload 2 min').pattern).toEqual([10, 180, 2]);
    expect(patternOf('96 cams, print 8 in 3 h, load and unload 4 min').pattern).toEqual([4, 180, 4]);
    expect(patternOf('96 cams, print 8 in 3 h, nobody loads it')).toEqual({ pattern: [0, 180], assumed: null });
    expect(patternOf('9 feet, laser 45 s each').pattern).toEqual([0]);
    const bare = read('96 cams, print 8 in 3 h, nobody loads it').build;
    expect(patternOf('96 cams, print 8 in 4 h', bare)).toEqual({ pattern: [0, 240], assumed: null });
  });

  it('reads a time for a number of them, also of a printer, as so many in that time', () => {
    expect(first('12 shutters, oil 40 min for 12').wrong).toBe(null);
    expect(read('12 shutters, oil 40 min for 12').build.steps).toEqual(
      read('12 shutters, oil 12 in 40 min').build.steps,
    );
    expect(read('96 cams, printer 3 h for 8').build).toEqual(read('96 cams, print 8 in 3 h').build);
  });

  it('marks nothing as assumed where it says that a part is sent out', () => {
    const codes = (line: string) => first(line).assumed.map(({ code }) => code);
    expect(codes('9 feet, sent to the foundry, 8 days')).toEqual([]);
    expect(codes('9 feet, sent out to the foundry, 8 days')).toEqual([]);
    expect(codes('9 feet, foundry, 8 days')).toEqual(['sent-out']);
  });

  it.each([
    ['160 x slats, sand 3min', '160 slats, sand 3 min'],
    ['160x slats: sand 3 min each and oil 4 min each', '160 slats, sand 3 min each, oil 4 min each'],
    ['slats × 160', '160 slats'],
    ['- 1 160 slats', '1160 slats'],
    ['1. a hundred and sixty slats, sand three minutes each', '160 slats, sand 3 min each'],
    ['12 boxes, glue 10 minutes each and dry for 8 hours', '12 boxes, glue 10 min each, dry 8 h'],
    [
      'twelve boxes, glue ten minutes each, then dry 8 h, then paint 5 min',
      '12 boxes, glue 10 min each; dry 8 h; paint 5 min',
    ],
    ['cut 40 rods, 2 min each', '40 rods, cut 2 min each'],
    ['make 40 rods 2 min each', '40 rods, make 2 min each'],
    ['40 rods. Weld an hour and a half each.', '40 rods, weld 90 min each'],
    ['40 rods, weld 2:30 h', '40 rods, weld 2h30'],
    ['40 rods, weld about 1½ h each & file 30 s ea.', '40 rods, weld 1,5 h each; file 30 s each'],
    ['order 5 motors from the drive shop, 3–7 working days', '5 motors, bought from the drive shop, 3 to 7 days'],
    ['buy 5 motors, drive shop, a week', '5 motors, bought from drive shop, 1 week'],
    ['5 motors (drive shop, 5 days)', '5 motors, drive shop, 5 days'],
    ['5 motors from the drive shop, 5 days', '5 motors, from drive shop, 5 days'],
    ['60 caps, print 6 on a plate, 3h20', '60 caps, on a plate of 6, 3 h 20'],
    ['60 caps, six to a plate, 3 hours twenty at night', '60 caps, print on a plate of 6, 3 h 20 at night'],
    ['60 caps, 3h20 per plate of 6, overnight', '60 caps, on a plate of 6, 3 h 20 at night'],
    ['60 caps, print 3 h 20 a plate, 6 on a plate', '60 caps, on a plate of 6, 200 min'],
    ['36 cords, knotting: 18 took 45 min', '36 cords, knotting 18 in 45 min'],
    ['36 cords + 3 spares, 10 already made', '36 cords, 3 spares, 10 here'],
    ['36 cords, knot 2 to 4 min each, likely 3', '36 cords, knot 2 to 4 min each'],
    ['load-in 5 h two people', 'load-in 5 h with 2 people'],
    ['12 lamps, wire 20 min each, two people', '12 lamps, wire 20 min each with 2 people'],
    ['12 panels, prime, 4 min each; paint 2x 6 min', '12 panels, prime 4 min each, paint 2 coats 6 min'],
    ['12 panels, 2 coats of paint 6 min each', '12 panels, paint twice, 6 min each'],
    ['5 boughs, test 9 min, 10 % fail', '5 boughs, test 9 min, may fail 10 %'],
    ['9 feet, 4 at a time, sand 5 min each', '9 feet, sand 5 min each in lots of 4'],
    ['9 feet, 10 days, foundry', '9 feet, foundry, 10 days'],
    ['9 feet sent to the foundry, a week or two', '9 feet, foundry, 1 to 2 weeks'],
    ['9 feet, cast at the foundry, a fortnight', '9 feet, foundry, 2 weeks'],
    ['9 feet, the foundry casts them, 2 weeks', '9 feet, foundry casts them, 2 weeks'],
    ['9 feet, foundry takes 2 weeks', '9 feet, foundry, 2 weeks'],
    ['40 panels, print 3:20, plate of 6', '40 panels, print 3 h 20, plate of 6'],
    ['40 caps, print on a plate of 6, 3:20 at night', '40 caps, print 3:20 on a plate of 6 at night'],
    ['wire 20 to 30 lamps half an hour each', '20 to 30 lamps, wire 30 min each'],
    ['40 caps, 3d printed, 6 per plate, 3 h 20', '40 caps, 3d printed 3 h 20 on a plate of 6'],
    ['40 caps, print six in 3 h 20', '40 caps, print 3 h 20 on a plate of 6'],
    ['48 tiles, bisque fire 12 to the kiln 9 h', '48 tiles, bisque fire in the kiln, 12 at a time, 9 h'],
    ['cut 40 legs on the bandsaw 2 min each', '40 legs, cut on the bandsaw, 2 min each'],
    ['wire up 20 lamps, half an hour each', '20 lamps, wire up 30 min each'],
    ['twenty lamps wire thirty minutes each', '20 lamps, wire 30 min each'],
    ['twenty lamps, half an hour each to wire', '20 lamps, wire 30 min each'],
    ['20 lamps, wiring takes half an hour per lamp', '20 lamps, wiring 30 min each'],
    ['20 lamps, sand 4 an hour', '20 lamps, sand 4 in 60 min'],
    ['12 boxes glue 10 min dry 8 h', '12 boxes, glue 10 min, dry 8 h'],
    [
      'hundred and sixty slats from the joiner five days then oil two coats three minutes each dry six hours hang four minutes',
      '160 slats, joiner, 5 days, oil 2 coats 3 min each, dry 6 h, hang 4 min',
    ],
    ['40 panels, paint 3 coats, 4 min a coat, 6 h drying', '40 panels, paint 3 coats 4 min each, dry 6 h'],
    ['40 panels, paint 4 min each, leave to dry 6 h', '40 panels, paint 4 min each, dry 6 h'],
    ['40 panels, paint 2 coats, 4 min each, 12 h between coats', '40 panels, paint 2 coats 4 min each, dry 12 h'],
    ['we need ten dozen eggs, paint 1 min', '120 eggs, paint 1 min'],
    ['30 hooks (3 spare), 1 in 10 breaks', '30 hooks, 3 spares, 90 % good'],
    ['30 hooks, 10 % extra, got 4 already', '30 hooks, 3 spares, 4 here'],
    ['800 screws in boxes of 200, £6 a box', '800 screws, in packs of 200, £0.03 each'],
    ['12 lamps, wire 20 min each with two volunteers', '12 lamps, wire 20 min each with 2 people'],
    ['3 towers, weld 6 h in total', '3 towers, weld 6 h altogether'],
    ['a frame, weld 6 h', '1 frame, weld 6 h'],
    ['pack, 3 h with 2 people', 'pack 3 h with 2 people'],
    ['hang each post 4 min', 'hang posts 4 min each'],
    ['hang the posts, 4 min each', 'hang posts 4 min each'],
    ['posts: hang 4 min each', 'hang posts 4 min each'],
  ])('reads "%s" as "%s"', (typed, plain) => {
    const [one, other] = [typed, plain].map((line) => read(`5 posts, saw 3 min\n${line}`));
    expect(one!.lines[1]!.wrong).toBe(null);
    expect(one!.build).toEqual(other!.build);
  });

  it('plans what takes two hours altogether for two hours, in however many lots it is made', () => {
    const { phases } = read('160 slats, oil 2 h altogether, laser 80 min in total').build.steps[0]!;
    expect(phases).toEqual([{ kind: 'hands', perUnit: 0.75 }]);
    expect(read('160 slats, laser 80 min in total').build.steps[0]!.phases).toMatchObject([{ perUnit: 0.5 }]);
  });

  it('takes a dry fit, a set-up and a test of each for the work of hands, and a burn-in for a wait', () => {
    const { build } = read(
      '20 lamps, dry fit 5 min each, test 3 min each, burn in 24 h\nset up 2 h with 2 people\nrun 24 h\n9 tiles, set 2 min, set 3 h',
    );
    expect(build.gates).toBe(undefined);
    expect(build.steps.map(({ name, phases }) => [name, phases!.map(({ kind }) => kind)])).toEqual([
      ['Dry fit lamps', ['hands']],
      ['Test lamps', ['hands', 'wait']],
      ['Set up', ['hands']],
      ['Run', ['wait']],
      ['Set tiles', ['hands', 'wait']],
    ]);
  });

  it('measures what is counted in metres, litres and kilos, but no L brackets and no G clamps', () => {
    const { build } = read(
      '25 m of cable\n2.5 L paint\n12 L brackets\n4 G clamps\n8 feet\n9 m trim, nail 2 min per metre',
    );
    expect(build.parts!.map(({ name, count, unit }) => [name, count, unit])).toEqual([
      ['Cable', 25, 'm'],
      ['Paint', 2.5, 'L'],
      ['L brackets', 12, undefined],
      ['G clamps', 4, undefined],
      ['Feet', 8, undefined],
      ['Trim', 9, 'm'],
    ]);
    expect(build.steps[0]).toMatchObject({ name: 'Nail trim', phases: [{ perUnit: 2 }] });
  });

  it('takes a count that is not sure for a number of the design', () => {
    const { build, lines } = read('20 to 30 hooks, bend 2 min each');
    expect(build.parameters).toEqual([{ name: 'hooks', range: { low: 20, likely: 25, high: 30 } }]);
    expect(build.parts![0]).toMatchObject({ name: 'Hooks', count: 'hooks' });
    expect(lines[0]!.assumed).toContainEqual({ code: 'likely-middle', what: 'hooks' });
  });

  it('sends out what is made here, or goes on to somebody else, as a step of its own', () => {
    const { build } = read('40 panels, joiner, 5 days, express 2 days, sand 3 min each, powder coating, 4 days');
    expect(build.suppliers).toEqual([
      { id: 'joiner', name: 'Joiner', lead: 5, express: { lead: 2 } },
      { id: 'powder-coating', name: 'Powder coating', lead: 4 },
    ]);
    expect(build.steps.map(({ name, phases }) => [name, phases![0]!.kind])).toEqual([
      ['Sand panels', 'hands'],
      ['Panels to powder coating', 'lead'],
    ]);
    expect(read('9 rods, joiner, express 1 day', build).build.suppliers![0]).toMatchObject({ express: { lead: 1 } });
  });

  it('needs no days of a supplier who is known, keeps those that are there, and names one who is not named', () => {
    const { build } = read('40 panels, joiner, 5 days');
    const [known, other, ship] = read(
      '9 rods, joiner\n9 pegs, joiner, 8 days\n9 nuts, bought, delivery 10 days',
      build,
    ).lines;
    expect(known!.facts).toContainEqual(expect.objectContaining({ code: 'supplier', supplier: 'Joiner', lead: 5 }));
    expect(other!.assumed).toContainEqual({ code: 'lead-kept', supplier: 'Joiner', lead: 5 });
    expect(ship!.assumed).toEqual([{ code: 'unnamed-supplier', part: 'Nuts', supplier: 'Supplier of nuts' }]);
  });

  it('knows who helps by name, and what is done at the place', () => {
    const shop: Build = {
      ...EMPTY,
      loadIn: '2027-01-15T08:00',
      people: [{ id: 'sam', name: 'Sam', hours: 'daily 9-17' }],
    };
    const { build } = read(
      '9 posts, sand 3 min each with Sam; fix on site 5 min each (Sam)\nget in 2 h\nget out 1 h',
      shop,
    );
    expect(build.steps.map(({ name, onSite, phases }) => [name, onSite, phases![0]])).toEqual([
      ['Sand posts', undefined, { kind: 'hands', perUnit: 3, who: ['sam'] }],
      ['Fix posts', true, { kind: 'hands', perUnit: 5, who: ['sam'] }],
      ['Get in', true, { kind: 'hands', minutes: 120 }],
    ]);
    expect(build.strike).toMatchObject([{ name: 'Get out' }]);
  });

  it('takes work on a part that is there for work on each of them', () => {
    const { build } = read('160 slats\nhang slats 4 min each');
    expect(build.steps).toMatchObject([{ id: 'hang-slats', part: 'slats', phases: [{ kind: 'hands', perUnit: 4 }] }]);
  });

  it('lets what is lasered, milled or fired run on such a machine, and marks the only one that there is', () => {
    const { build } = read('9 feet, laser 45 s each\n9 pots, fire in the kiln 9 h, 6 at a time');
    expect(build.machines).toEqual([
      { id: 'laser', name: 'Laser', unattended: false, overnight: false },
      { id: 'kiln', name: 'Kiln', unattended: true, overnight: false },
    ]);
    expect(build.steps.map(({ lotSize, phases }) => [lotSize, phases!.find(({ kind }) => kind === 'run')])).toEqual([
      [undefined, { kind: 'run', machine: 'laser', perUnit: 0.75 }],
      [6, { kind: 'run', machine: 'kiln', minutes: 540 }],
    ]);
    const shop = (name: string): Build => ({ ...EMPTY, machines: [{ id: 'one', name }] });
    expect(first('9 feet, print 2 h each', shop('Band saw')).assumed).toContainEqual(
      expect.objectContaining({ code: 'new-machine', machine: 'Printer' }),
    );
    expect(first('9 feet, print 2 h each', shop('Old Blue')).assumed).toContainEqual({
      code: 'on-machine',
      step: 'Print feet',
      machine: 'Old Blue',
    });
  });

  it.each([
    ['1,160 slats', 'thousands'],
    ['1.160 slats', 'thousands'],
    ['12 boxes wobble 10 min jiggle 8 h', 'no-comma'],
    ['12 boxes, wobble 10 min jiggle 8 h', 'no-comma'],
    ['18 units in 45 minutes', 'no-comma'],
    ['5 motors, 5 days', 'days-of-hands'],
    ['hang 4 min each', 'each-of-what'],
    ['40 panels, weld 2 days', 'days-of-hands'],
    ['40 panels, weld half a day each', 'days-of-hands'],
    ['40 panels, joiner, 48 h', 'days-of-hands'],
    ['sand; paint; assemble', 'no-number'],
    ['40 panels, sand; paint', 'no-number'],
    ['12 boxes, glue 3:20', 'clock-time'],
    ['5 motors, drive shop, by Friday', 'dates'],
    ['24 chairs, sand up to 15 min', 'bound'],
    ['30 hooks incl. 3 spares', 'spares-within'],
    ['6 tables with 4 legs each', 'part-in-part'],
    ['20 lamps, test 3 min each, may fail 5 %', 'fails-each'],
    ['12 m of serge, hem 40 min', 'each-measure'],
    ['cast 1 h, demould after 24 h', 'after-a-time'],
    ['20 to 30 hooks, bend 2 h altogether', 'altogether'],
    ['40 panels, paint 4 min each with Nobody', 'who'],
  ])('does not guess what "%s" means, and says why: %s', (line, why) => {
    expect(first(line)).toMatchObject({ why, changes: [] });
  });

  it('hangs a part on the one that it goes into, however that is said', () => {
    for (const line of [
      '18 drums per bough',
      '18 drums on each bough',
      '18 drums a bough',
      '18 drums for each boughs',
    ]) {
      const { build } = read(`5 boughs\n${line}`);
      expect(build.parts![1]).toEqual({
        id: 'drums',
        name: 'Drums',
        source: 'make',
        usedIn: [{ part: 'boughs', count: 18 }],
      });
    }
    expect(first('18 drums per bough').wrong).toBe('18 drums per bough');
  });

  it('makes numbers of the design, and counts with them', () => {
    const { build } = read(
      'rails = 5\nslats per rail = 32\nmotors = 5 to 12, likely 8\nslats = rails x 32\nrails x 32 cords',
    );
    expect(build.parameters).toEqual([
      { name: 'rails', value: 5, origin: 'decided' },
      { name: 'slats_per_rail', value: 32, origin: 'decided' },
      { name: 'motors', range: { low: 5, likely: 8, high: 12 } },
      { name: 'slats', formula: 'rails * 32' },
    ]);
    expect(build.parts![0]).toMatchObject({ name: 'Cords', count: 'rails * 32' });
  });

  it('tests what is there, and sends back what failed', () => {
    const { build, lines } = read(
      '5 boughs, mount 20 min\nwire 2 h\n7 posts, test 40 min, may fail 20 %, 3 back to mount',
    );
    expect(lines.map(({ wrong }) => wrong)).toEqual([null, null, null]);
    expect(build.gates).toEqual([
      {
        id: 'test-posts',
        name: 'Test posts',
        after: ['wire'],
        minutes: 40,
        failChance: 0.2,
        sendsBack: [{ step: 'mount-boughs', units: 3 }],
      },
    ]);
  });

  it('takes a time behind so many at a time for that of all of these, on the part that is named', () => {
    const { build } = read('60 slats, cut 2 min each\noil slats 12 at a time 40 min, dry 6 h');
    expect(build.steps[1]).toMatchObject({
      part: 'slats',
      lotSize: 12,
      phases: [
        { kind: 'hands', minutes: 40 },
        { kind: 'wait', minutes: 360 },
      ],
    });
  });

  it('puts a job of no part after all that is there', () => {
    const { build } = read(
      '5 boughs, mount 20 min\n9 posts, cut 3 min, sand 4 min\npack 3 h with 2 people\nload-in 2 h',
    );
    const pack = { kind: 'hands', minutes: 180, people: 2 };
    const after = ['mount-boughs', 'sand-posts'].map((step) => ({ step, type: 'finish-start' }));
    expect(build.steps.slice(3)).toEqual([
      {
        id: 'pack',
        name: 'Pack',
        phases: [pack],
        after,
        hazards: ['lifting'],
        hazardsGuessed: true,
        origin: 'guessed',
      },
      {
        id: 'load-in',
        name: 'Load-in',
        phases: [{ kind: 'hands', minutes: 120 }],
        after: [{ step: 'pack', type: 'finish-start' }],
        hazards: ['lifting'],
        hazardsGuessed: true,
        origin: 'guessed',
      },
    ]);
  });

  it('does a load-in at the place where the build has one, and says so', () => {
    const { build, lines } = read('load in 2 h', { ...EMPTY, loadIn: '2027-01-15T08:00' });
    expect(build.steps[0]).toMatchObject({ name: 'Load in', onSite: true });
    expect(lines[0]!.assumed).toContainEqual({ code: 'on-site', step: 'Load in' });
    expect(read('load in 2 h').build.steps[0]).not.toHaveProperty('onSite');
  });

  it('marks the hazards that the words of a step or of its machine speak of, unless somebody has said which', () => {
    const { build, lines } = read('9 posts, cut 3 min each, stack 2 min each\n9 feet, on a plate of 3, 2 h');
    expect(build.steps.map(({ hazards }) => hazards)).toEqual([['dust', 'blades', 'noise'], undefined, ['fumes']]);
    expect(lines[0]!.assumed).toContainEqual({
      code: 'hazards',
      step: 'Cut posts',
      guesses: ['dust', 'blades', 'noise'].map((hazard) => ({ hazard, from: 'name' })),
    });
    const safe: Build = { ...build, steps: build.steps.map((step) => ({ ...step, hazards: [] })) };
    expect(read('9 posts, cut 4 min each', safe).build.steps[0]!.hazards).toEqual([]);
  });

  it('puts what comes after the event on the list of the strike, once', () => {
    const { build, lines } = read('strike 2 h with 2 people\nbring back 1 h 30');
    expect(build.strike).toEqual([
      { id: 'strike', name: 'Strike', minutes: 120, people: 2 },
      { id: 'bring-back', name: 'Bring back', minutes: 90, people: 1 },
    ]);
    expect(lines[0]!.facts).toEqual([{ code: 'strike', job: 'Strike', minutes: 120, people: 2 }]);
    expect(build.steps).toEqual([]);
    expect(read('strike 3 h with 2 people', build).changes).toMatchObject([
      { kind: 'set', field: 'minutes', value: 180 },
    ]);
  });

  it('changes what is there already and adds nothing twice', () => {
    const text = '160 slats, joiner, 5 days; oil 2 coats 3 min each, dry 6 h\npack 3 h';
    const once = read(text).build;
    expect(read(text, once)).toMatchObject({ changes: [], build: once });
    const more = read('150 Slat; oil 4 min each', once);
    expect(more.changes).toMatchObject([
      { kind: 'set', list: 'parts', key: 'slats', field: 'count', value: 150 },
      { kind: 'set', list: 'steps', key: 'oil-slats', field: 'phases' },
    ]);
    expect(more.build.parts![0]).toMatchObject({ source: 'send-out', supplier: 'joiner' });
  });

  it.each([
    ['160 slats, wobble', 'wobble'],
    ['160 slats, joiner', 'joiner'],
    ['160 slats, on a plate of 6', '6'],
    ['hang', 'hang'],
    ['160 slats, oil zwei coats 3 min', 'oil zwei coats 3 min'],
    ['160 slats, paint 3 min by Nobody', 'paint 3 min by Nobody'],
    ['160 slats, 5 back to mount', '5 back to mount'],
    ['160 slats, hang 4 lightyears', 'hang 4 lightyears'],
    ['-3 slats', '-3 slats'],
    ['160', '160'],
    ['3 h', '3 h'],
    ['2 by 4, 12 lengths', '2 by 4'],
    ['2 people 3 h pack', '2 people'],
  ])('says of "%s" what was not understood, and changes nothing', (line, wrong) => {
    const { lines, changes, build } = read(line);
    expect(lines[0]!.wrong).toBe(wrong);
    expect(changes).toEqual([]);
    expect(build).toBe(EMPTY);
  });

  it('says why it takes no test of nothing, and no chance above all cases', () => {
    expect(read('test 40 min, may fail 20 %').lines[0]).toMatchObject({ why: 'nothing-to-test', changes: [] });
    const [, tooOften, fits] = read('5 posts, sand 3 min each\ntest 40 min, may fail 120 %\ntest 40 min').lines;
    expect(tooOften).toMatchObject({ wrong: 'may fail 120 %', why: 'over-all', changes: [] });
    expect(fits).toMatchObject({ wrong: null, problems: [] });
  });

  it('keeps the lines around one that is wrong, and passes over what is empty or a remark', () => {
    const { lines, build } = read('# to think about\n\n5 boughs\n???\n7 posts');
    expect(lines.map(({ text, wrong }) => [text, wrong])).toEqual([
      ['5 boughs', null],
      ['???', '???'],
      ['7 posts', null],
    ]);
    expect(build.parts).toHaveLength(2);
  });

  it('takes no part for a piece of itself', () => {
    const { lines, changes } = read('5 boughs\n2 boughs per bough');
    expect(lines[1]!.wrong).toBe('2 boughs per bough');
    expect(changes).toHaveLength(1);
  });
});
