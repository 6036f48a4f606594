import { describe, expect, it } from 'vitest';
import type { Build, LogEntry } from '../../server/model/index.ts';
import { lantern, openStore, SAVED } from '../store/helpers.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { bench, NOON, noonTap, simpleForecast, words } from './helpers.ts';

function rename(name: string) {
  return (build: Build): void => {
    build.name = name;
  };
}

function nameStep(step: string, name: string) {
  return (build: Build): void => {
    build.steps.find((one) => one.id === step)!.name = name;
  };
}

describe('an edit', () => {
  it('is kept as a revision with its changes and changes the build', async () => {
    const { planner, heard } = await bench();
    expect(await editBy(planner, 'lantern', rename('Lamp'))).toEqual({
      ok: true,
      value: { revision: 2 },
    });
    expect(planner.build('lantern')).toMatchObject({ build: { name: 'Lamp' }, revision: 2 });
    expect(planner.revisions('lantern').map(({ revision, who, cause }) => [revision, who, cause])).toEqual([
      [1, 'maker', { code: 'made' }],
      [2, 'maker', { code: 'edit' }],
    ]);
    expect(planner.revisions('lantern')[1]!.savedAt).toBe('2026-11-30T12:00:00Z');
    expect(heard).toEqual(['lantern ground', 'lantern forecast']);
  });

  it('brings the forecast that it was checked with', async () => {
    const { planner, computed } = await bench();
    await editBy(planner, 'lantern', rename('Lamp'));
    const { count } = computed;
    expect(planner.latest('lantern')).toMatchObject({
      stale: false,
      version: { revision: 2, logSeq: 0 },
      forecast: { build: { name: 'Lamp' } },
    });
    expect(computed.count).toBe(count);
  });

  it('is given a copy: a refused edit leaves no trace', async () => {
    const { planner, heard } = await bench();
    const refused = await editBy(planner, 'lantern', (build) => {
      build.name = 'Lamp';
      build.steps[0]!.stations = -2;
    });
    expect(words(refused)).toMatch(/^steps\.cut\.stations: "steps\.cut\.stations" must be at least 1; it is -2/);
    expect(planner.build('lantern')).toEqual({ build: lantern(), revision: 1 });
    expect(heard).toEqual([]);
  });

  it('is refused when it adds an error of the plan', async () => {
    const { planner } = await bench();
    expect(words(await editBy(planner, 'lantern', nameStep('cut', 'broken')))).toBe('steps.cut: Nobody may do it.');
    expect(planner.revisions('lantern')).toHaveLength(1);
  });

  it('is allowed in a build that has that error already, and may mend it', async () => {
    const store = openStore();
    store.builds.create(lantern(), SAVED);
    const broken = lantern();
    nameStep('cut', 'broken')(broken);
    store.builds.save(1, broken, SAVED);
    const { planner } = await bench({ store });
    expect((await editBy(planner, 'lantern', rename('Lamp'))).ok).toBe(true);
    expect(words(await editBy(planner, 'lantern', nameStep('glue', 'broken')))).toMatch(/^steps\.glue/);
    expect((await editBy(planner, 'lantern', nameStep('cut', 'cut ribs'))).ok).toBe(true);
    expect(words(await editBy(planner, 'lantern', nameStep('cut', 'broken')))).toMatch(/^steps\.cut/);
  });

  it('may ask for more of what was done when the event is past, but not move the event into the past', async () => {
    const past = { code: 'event-past', severity: 'error', field: 'event', value: '', message: 'It is over.' } as const;
    const { planner } = await bench({
      computeForecast: (build, log, now) => ({
        ...simpleForecast(build, log, now),
        problems: build.name === 'More' || build.event !== lantern().event ? [past] : [],
      }),
    });
    const early = (build: Build): void => {
      build.event = '2020-01-01T19:00';
    };
    expect(words(await editBy(planner, 'lantern', early))).toBe('event: It is over.');
    expect((await editBy(planner, 'lantern', rename('More'))).ok).toBe(true);
  });

  it('is not blamed for an error that only time has brought', async () => {
    const over = await bench({
      computeForecast: (build, log, now) => {
        const forecast = simpleForecast(build, log, now);
        const past = {
          code: 'event-past',
          severity: 'error',
          field: 'event',
          value: '',
          message: 'It is over.',
        } as const;
        return now > NOON ? { ...forecast, problems: [past] } : forecast;
      },
    });
    await over.planner.snapshot('lantern');
    over.clock.now += 5;
    expect((await editBy(over.planner, 'lantern', rename('Lamp'))).ok).toBe(true);
  });

  it('on an older revision than expected is refused with who changed what', async () => {
    const { planner } = await bench();
    await editBy(planner, 'lantern', rename('Lamp'));
    const refused = await editBy(planner, 'lantern', rename('Lampion'), 1);
    expect(refused.ok ? [] : refused.problems.map((p) => p.code)).toEqual(['conflict']);
    expect(words(refused)).toMatch(/maker has changed .*edit 2, yours was begun on edit 1/);
    expect((await editBy(planner, 'lantern', rename('Lampion'), 2)).ok).toBe(true);
  });

  it('that changes nothing makes no revision', async () => {
    const { planner, heard } = await bench();
    expect(await editBy(planner, 'lantern', () => undefined)).toEqual({ ok: true, value: { revision: 1 } });
    expect(heard).toEqual([]);
  });

  it('may not change the id, nor a build that is not there', async () => {
    const { planner } = await bench();
    const change = { kind: 'set', list: 'build', field: 'id', value: 'lamp' } as const;
    expect(words(await planner.edit('lantern', [change], 'maker'))).toMatch(/^id: "id" of the build/);
    expect(words(await planner.edit('arch', [], 'maker'))).toMatch(/no build "arch"/);
  });

  it('drops keys that hold nothing', async () => {
    const { planner } = await bench();
    const emptied = { kind: 'set', list: 'build', field: 'note', value: undefined } as const;
    const named = { kind: 'set', list: 'build', field: 'name', value: 'Lamp' } as const;
    await planner.edit('lantern', [emptied, named], 'maker');
    expect(Object.keys(planner.build('lantern')!.build)).not.toContain('note');
  });
});

describe('taking back', () => {
  it('puts the build back as it was, as a further revision', async () => {
    const { planner } = await bench();
    await editBy(planner, 'lantern', rename('Lamp'));
    expect(await planner.takeBack('lantern', 1, 'maker')).toEqual({ ok: true, value: { revision: 3 } });
    expect(planner.build('lantern')!.build).toEqual(lantern());
    expect(planner.revisions('lantern').at(-1)!.cause).toEqual({ code: 'back-to', edit: 1 });
    expect(await planner.takeBack('lantern', 2, 'maker')).toEqual({ ok: true, value: { revision: 4 } });
    expect(planner.build('lantern')!.build.name).toBe('Lamp');
  });

  it('to a revision that never was is refused', async () => {
    const { planner } = await bench();
    expect(words(await planner.takeBack('lantern', 9, 'maker'))).toMatch(/no edit 9.*1 to 1/);
    expect(words(await planner.takeBack('arch', 1, 'maker'))).toMatch(/no build "arch"/);
  });
});

describe('making and removing', () => {
  it('brings a build with its log just as they stand in the file', async () => {
    const { planner } = await bench();
    const log: LogEntry[] = [
      { ...noonTap({ who: 'Ana', at: '2021-05-01T10:00:00Z' }), arrived: '2021-05-01T10:00:05Z', seq: 1 },
      { ...noonTap({ who: 'Bo' }), arrived: '2026-11-30T11:59:00Z', seq: 2 },
      {
        id: 'undo-00000001',
        kind: 'undo',
        undoes: 'x',
        at: '2026-11-30T12:00:00Z',
        arrived: '2026-11-30T12:00:00Z',
        seq: 3,
      },
    ];
    log[2] = { ...log[2]!, undoes: log[1]!.id };
    expect(await planner.create(lantern({ id: 'arch' }), [...log].reverse(), 'maker')).toEqual({
      ok: true,
      value: { id: 'arch' },
    });
    expect(planner.log('arch')).toEqual(log);
    expect(planner.build('arch')!.build).toEqual(lantern({ id: 'arch' }));
  });

  it('refuses a build that is there already, is misshapen, or has an error', async () => {
    const { planner } = await bench();
    const broken = lantern({ id: 'arch' });
    nameStep('cut', 'broken')(broken);
    expect(words(await planner.create(lantern(), [], 'maker'))).toMatch(/^id: .*"lantern" already/);
    expect(words(await planner.create({ ...lantern(), id: 'No Good' }, [], 'maker'))).toMatch(/^id: .*small letters/);
    expect(words(await planner.create(broken, [], 'maker'))).toBe('steps.cut: Nobody may do it.');
    expect(planner.builds().map((b) => b.id)).toEqual(['lantern']);
  });

  it('refuses a log with a doubled id, a future entry or half a unit', async () => {
    const { planner } = await bench();
    const entry = noonTap();
    const arch = lantern({ id: 'arch' });
    expect(words(await planner.create(arch, [entry, entry], 'maker'))).toMatch(/^log\.id: Two entries/);
    expect(words(await planner.create(arch, [noonTap({ at: '2026-12-30T12:00:00Z' })], 'maker'))).toMatch(/^log\.at: /);
    expect(words(await planner.create(arch, [noonTap({ n: 1.5 })], 'maker'))).toMatch(/^log\.n: .*whole number/);
    expect(planner.builds()).toHaveLength(1);
  });

  it('keeps an exported entry whose step is gone, and refuses one written by hand', async () => {
    const { planner } = await bench();
    const arch = lantern({ id: 'arch' });
    const entry = noonTap({ step: 'sand' });
    expect(words(await planner.create(arch, [entry], 'maker'))).toMatch(/^log\.step: There is no step or gate "sand"/);
    const exported = { ...entry, arrived: '2026-11-30T12:00:05Z', seq: 1 };
    expect((await planner.create(arch, [exported], 'maker')).ok).toBe(true);
    expect(planner.log('arch')).toEqual([exported]);
  });

  it('brings back a build whose event is over only with the log of its making', async () => {
    const { planner } = await bench({
      computeForecast: (build, log, now) => ({
        ...simpleForecast(build, log, now),
        problems:
          build.id === 'arch'
            ? [{ code: 'event-past', severity: 'error', field: 'event', value: '', message: 'It is over.' }]
            : [],
      }),
    });
    expect(words(await planner.create(lantern({ id: 'arch' }), [], 'maker'))).toBe('event: It is over.');
    expect((await planner.create(lantern({ id: 'arch' }), [noonTap()], 'maker')).ok).toBe(true);
  });

  it('removes a build from sight', async () => {
    const { planner, heard } = await bench();
    expect(planner.remove('lantern')).toBe(true);
    expect(planner.remove('lantern')).toBe(false);
    expect([planner.build('lantern'), await planner.snapshot('lantern'), planner.latest('lantern')]).toEqual([
      null,
      null,
      null,
    ]);
    expect(heard).toEqual(['lantern ground']);
    expect((await planner.create(lantern(), [], 'maker')).ok).toBe(true);
    expect(planner.log('lantern')).toEqual([]);
  });
});
