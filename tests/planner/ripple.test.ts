import { describe, expect, it } from 'vitest';
import { planBuild } from '../../server/engine/index.ts';
import type { Build, Change, RippleAnswer } from '../../server/model/index.ts';
import { standingEntries } from '../../server/model/log/index.ts';
import { lantern } from '../store/helpers.ts';
import { bench, noonTap, words } from './helpers.ts';

/** Ribs are cut and glued to a drawing that follows their length. */
const BUILD: Build = {
  ...lantern(),
  parameters: [
    { name: 'length', value: 480 },
    { name: 'spare', formula: 'length / 10 - 40' },
  ],
  parts: lantern().parts!.map((part) => ({ ...part, dependsOn: ['length'], revision: 'A' })),
};

/** Caps are as many as the length is over 470. */
const COUNTED: Build = {
  ...BUILD,
  parts: [...BUILD.parts!, { id: 'cap', name: 'cap', source: 'make', count: 'length - 470' }],
};

const longer = (value: number): Change[] => [{ kind: 'set', list: 'parameters', key: 'length', field: 'value', value }];
const scrap = (units: number): RippleAnswer => ({
  part: 'ribs',
  at: 'passed',
  step: 'cut',
  good: 0,
  rework: 0,
  scrap: units,
  redo: [],
});

/** The lantern with twelve ribs cut. */
async function cut() {
  const made = await bench({}, BUILD);
  made.planner.append('lantern', [noonTap({ n: 12 })], 'maker');
  const { planner } = made;
  return {
    ...made,
    build: () => planner.build('lantern')!.build,
    ribs: () => planner.build('lantern')!.build.parts!.find(({ id }) => id === 'ribs')!,
    standing: () => standingEntries(planner.log('lantern')).map(({ kind, step, n }) => [kind, step, n]),
  };
}

const told = (...answers: RippleAnswer[]) => ({ answers, part: null });

describe('an edit that reaches made units', () => {
  it('says before it is saved what it reaches, and changes nothing', async () => {
    const { planner } = await cut();
    const asked = planner.ripple('lantern', longer(500), 1);
    expect(asked).toMatchObject({
      ok: true,
      value: {
        made: [{ part: 'ribs', at: 'passed', step: 'cut', units: 12 }],
        ripple: { because: 'length 480 → 500' },
      },
    });
    expect(planner.revisions('lantern')).toHaveLength(1);
  });

  it('with an answer is one edit: the change, the revision and the entries of the log', async () => {
    const { planner, ribs, standing } = await cut();
    const made = await planner.edit('lantern', longer(500), 'Ana', 1, undefined, told(scrap(5)));
    expect(made).toEqual({ ok: true, value: { revision: 2 } });
    expect(ribs()).toMatchObject({
      revision: 'B',
      unchecked: [{ at: 'passed', step: 'cut', units: 7, revision: 'A' }],
    });
    expect(standing()).toEqual([
      ['done', 'cut', 12],
      ['sent-back', 'cut', 5],
    ]);
    expect(planner.revisions('lantern')).toHaveLength(2);
    expect(planner.log('lantern').at(-1)).toMatchObject({ who: 'Ana' });
  });

  it('is undone as one, with its entries, and the undo is undone so too', async () => {
    const { planner, build, standing } = await cut();
    await planner.edit('lantern', longer(500), 'maker', 1, undefined, told(scrap(5)));
    expect((await planner.undo('lantern', 2, 'maker')).ok).toBe(true);
    expect(build()).toEqual(BUILD);
    expect(standing()).toEqual([['done', 'cut', 12]]);
    expect((await planner.undo('lantern', 3, 'maker')).ok).toBe(true);
    expect(build().parameters![0]!.value).toBe(500);
    expect(standing()).toEqual([
      ['done', 'cut', 12],
      ['sent-back', 'cut', 5],
    ]);
  });

  it('is put back with its entries, however often it was undone', async () => {
    const { planner, build, standing } = await cut();
    await planner.edit('lantern', longer(500), 'maker', 1, undefined, told(scrap(5)));
    await planner.undo('lantern', 2, 'maker');
    await planner.undo('lantern', 3, 'maker');
    expect((await planner.takeBack('lantern', 1, 'maker')).ok).toBe(true);
    expect(build()).toEqual(BUILD);
    expect(standing()).toEqual([['done', 'cut', 12]]);
    expect((await planner.takeBack('lantern', 2, 'maker')).ok).toBe(true);
    expect(build().parameters![0]!.value).toBe(500);
  });

  it('without an answer leaves all of them unchecked, whichever way it is made', async () => {
    const { planner, ribs } = await cut();
    await planner.edit('lantern', longer(500), 'maker');
    expect(ribs()).toMatchObject({
      revision: 'B',
      unchecked: [{ at: 'passed', step: 'cut', units: 12, revision: 'A', because: 'length 480 → 500' }],
    });
  });

  it('for more units than there are is refused and changes nothing', async () => {
    const { planner, build } = await cut();
    const made = await planner.edit('lantern', longer(500), 'maker', 1, undefined, told(scrap(13)));
    expect(words(made)).toContain('there are 12; answer for 12 at most');
    expect(build()).toEqual(BUILD);
    expect(planner.log('lantern')).toHaveLength(1);
  });

  it('whose units were counted on meanwhile is refused: they are not there any more', async () => {
    const { planner, build } = await cut();
    planner.append('lantern', [noonTap({ step: 'glue', n: 12 })], 'maker');
    const made = await planner.edit('lantern', longer(500), 'maker', 1, undefined, told(scrap(12)));
    expect(words(made)).toContain('the counts have moved on since');
    expect(build()).toEqual(BUILD);
  });

  it('of two from two browsers tells the second, who loses nothing', async () => {
    const { planner, build } = await cut();
    await planner.edit('lantern', longer(500), 'Ana', 1, undefined, told(scrap(5)));
    const second = await planner.edit('lantern', longer(490), 'Ben', 1, undefined, told(scrap(2)));
    expect(words(second)).toContain('Ana has changed the build since you opened it');
    expect(words(planner.ripple('lantern', longer(490), 1))).toContain('Ana has changed the build');
    expect(build().parameters![0]!.value).toBe(500);
    expect(planner.log('lantern')).toHaveLength(2);
  });

  it('answers later for the units that were left unchecked, and takes the mark off', async () => {
    const { planner, ribs, standing } = await cut();
    await planner.edit('lantern', longer(500), 'maker');
    const asked = planner.ripple('lantern', [], 2, 'ribs');
    expect(asked).toMatchObject({ ok: true, value: { isAnswer: true, made: [{ units: 12 }] } });
    const answer = { ...scrap(2), good: 10 };
    const made = await planner.edit('lantern', [], 'maker', 2, undefined, { answers: [answer], part: 'ribs' });
    expect(made).toEqual({ ok: true, value: { revision: 3 } });
    expect(ribs()).not.toHaveProperty('unchecked');
    expect(ribs().revision).toBe('B');
    expect(standing().at(-1)).toEqual(['sent-back', 'cut', 2]);
  });

  it('that would make another count negative is refused with field and value, asked or saved, answered or not', async () => {
    const { planner } = await bench({ computeForecast: (build, log, now) => planBuild(build, log, now) }, COUNTED);
    planner.append('lantern', [noonTap({ n: 12 })], 'maker');
    const tries = [
      await planner.edit('lantern', longer(460), 'maker', 1),
      await planner.edit('lantern', longer(460), 'maker', 1, undefined, told(scrap(5))),
      await planner.whatIf('lantern', longer(460), 1),
    ];
    for (const made of tries) {
      expect(made.ok).toBe(false);
      expect(words(made as Awaited<ReturnType<typeof planner.edit>>)).toContain('length - 470 = -10');
    }
    expect(planner.build('lantern')!.build).toEqual(COUNTED);
    expect(planner.log('lantern')).toHaveLength(1);
    expect((await planner.edit('lantern', longer(470), 'maker', 1)).ok).toBe(true);
  });

  it('answered for less than nothing, or for half a unit, is refused and changes nothing', async () => {
    const { planner, build } = await cut();
    for (const units of [-1, 2.5]) {
      const made = await planner.edit('lantern', longer(500), 'maker', 1, undefined, told(scrap(units)));
      expect(words(made)).toContain(`are a whole number from 0; this is ${units}`);
    }
    expect(build()).toEqual(BUILD);
    expect(planner.log('lantern')).toHaveLength(1);
  });
});
