import { describe, expect, it } from 'vitest';
import type { Build, Change } from '../../../server/model/index.ts';
import { createOptionStore } from '../../../server/store/index.ts';
import { lantern, openDb } from '../../store/helpers.ts';
import { bench, words } from '../helpers.ts';

const set = (list: 'parts' | 'steps', key: string, field: string, value: unknown): Change => ({
  kind: 'set',
  list,
  key,
  field,
  value,
});
const FEWER = set('parts', 'ribs', 'count', 30);
const SPARES = set('parts', 'ribs', 'spares', 3);
const WITH_HOOK: Build = lantern({
  parts: [...lantern().parts!, { id: 'hook', name: 'Brass hook', source: 'make', count: 4 }],
});

type Bench = Awaited<ReturnType<typeof bench>>;

function keep({ planner }: Bench, name: string, changes: readonly Change[], more: { into?: number } = {}) {
  const expected = planner.build('lantern')!.revision;
  return planner.keepOption('lantern', { name, changes, who: 'Ana', expected, ...more });
}

async function kept(one: Bench, name: string, changes: readonly Change[]): Promise<number> {
  const made = keep(one, name, changes);
  if (!made.ok) throw new Error(words(made));
  return made.value.number;
}

const optionsOf = async ({ planner }: Bench) => (await planner.options('lantern', 10_000)).options;

describe('an option', () => {
  it('leaves the plan alone, and shows what it would be', async () => {
    const one = await bench();
    await kept(one, 'Fewer ribs', [FEWER]);
    expect(one.planner.build('lantern')).toEqual({ build: lantern(), revision: 1 });
    const { present, options } = await one.planner.options('lantern', 10_000);
    expect(options).toMatchObject([{ name: 'Fewer ribs', who: 'Ana', state: { kind: 'tried' } }]);
    const [option] = options;
    if (option?.state.kind !== 'tried') throw new Error(option?.state.kind);
    expect(present!.room.readyBy.finish! - option.state.forecast.room.readyBy.finish!).toBe(2 * 10 * 10);
  });

  it('is worked out anew on the plan as it is after an edit', async () => {
    const one = await bench();
    await kept(one, 'Fewer ribs', [FEWER]);
    await one.planner.edit('lantern', [set('steps', 'cut', 'name', 'saw ribs')], 'maker');
    const [option] = await optionsOf(one);
    expect(option!.edit.after.steps[0]!.name).toBe('saw ribs');
    expect(option!.edit.after.parts![0]!.count).toBe(30);
  });

  it('becomes an edit under its name when it is adopted, which can be undone, and is an option no more', async () => {
    const one = await bench();
    const number = await kept(one, 'Fewer ribs', [FEWER]);
    expect(await one.planner.adoptOption('lantern', number, 'Bo', 1)).toEqual({ ok: true, value: { revision: 2 } });
    expect(one.planner.revisions('lantern').at(-1)).toMatchObject({
      who: 'Bo',
      cause: { code: 'option', name: 'Fewer ribs' },
    });
    expect(await optionsOf(one)).toEqual([]);
    await one.planner.undo('lantern', 2, 'Bo');
    expect(one.planner.build('lantern')!.build).toEqual(lantern());
  });

  it('is gone when it is dropped, and its number is not given again', async () => {
    const one = await bench();
    const first = await kept(one, 'Fewer ribs', [FEWER]);
    expect(one.planner.dropOption('lantern', first)).toBe(true);
    expect(one.planner.dropOption('lantern', first)).toBe(false);
    const second = await kept(one, 'Spares', [SPARES]);
    expect(second).not.toBe(first);
    expect(words(await one.planner.adoptOption('lantern', first, 'Bo', 1))).toContain('not there any more');
    expect(one.planner.build('lantern')!.revision).toBe(1);
  });

  it('takes further changes, and the later of two that set the same', async () => {
    const one = await bench();
    const number = await kept(one, 'Other ribs', [FEWER]);
    expect(keep(one, '', [SPARES, set('parts', 'ribs', 'count', 20)], { into: number })).toEqual({
      ok: true,
      value: { number },
    });
    const [option] = await optionsOf(one);
    expect(option).toMatchObject({ name: 'Other ribs', edit: { after: { parts: [{ count: 20, spares: 3 }] } } });
  });

  it('whose part is gone says so by its name and keeps its text', async () => {
    const one = await bench({}, WITH_HOOK);
    await kept(one, 'More hooks', [set('parts', 'hook', 'count', 9)]);
    await one.planner.edit('lantern', [{ kind: 'remove', list: 'parts', key: 'hook' }], 'maker');
    const [option] = await optionsOf(one);
    expect(option!.state).toMatchObject({ kind: 'misfit' });
    expect(words(option!.state as never)).toContain(
      '“More hooks” changes the part “Brass hook”, which is not in the plan',
    );
    expect(option!.edit.changes).toEqual([set('parts', 'hook', 'count', 9)]);
    expect(option!.edit.before.parts!.at(-1)!.count).toBe(4);
    const adopted = await one.planner.adoptOption('lantern', option!.number, 'Bo', 2);
    expect(words(adopted)).toContain('Brass hook');
    expect(await optionsOf(one)).toHaveLength(1);
  });

  it('with which the plan would be wrong says what would be, and is not adopted', async () => {
    const one = await bench();
    const number = await kept(one, 'Broken', [set('steps', 'cut', 'name', 'broken')]);
    const [option] = await optionsOf(one);
    expect(option!.state).toMatchObject({ kind: 'impossible', problems: [{ message: 'Nobody may do it.' }] });
    expect(words(await one.planner.adoptOption('lantern', number, 'Bo', 1))).toContain('Nobody may do it.');
    expect(one.planner.build('lantern')!.revision).toBe(1);
    expect(await optionsOf(one)).toHaveLength(1);
  });

  it.each([
    ['without a name', ' ', [FEWER], 'no name yet'],
    ['with a name that is too long', 'x'.repeat(61), [FEWER], '61 letters'],
    ['with a name that is taken', 'fewer RIBS', [SPARES], 'There is an option “Fewer ribs” already'],
    ['that changes nothing', 'Nothing', [set('parts', 'ribs', 'count', 40)], 'changes nothing'],
    ['of what is not there', 'Gone', [set('parts', 'gone', 'count', 40)], 'has removed the part "gone"'],
  ])('is refused %s', async (_, name, changes, sentence) => {
    const one = await bench();
    await kept(one, 'Fewer ribs', [FEWER]);
    expect(words(keep(one, name, changes))).toContain(sentence);
    expect(await optionsOf(one)).toHaveLength(1);
  });

  it('is refused as the sixth', async () => {
    const one = await bench();
    for (const n of [1, 2, 3, 4, 5]) await kept(one, `Option ${n}`, [set('parts', 'ribs', 'count', n)]);
    expect(words(keep(one, 'Option 6', [FEWER]))).toContain('5 options are kept at most');
  });

  it('is refused where another browser has changed the plan meanwhile, kept and adopted', async () => {
    const one = await bench();
    const number = await kept(one, 'Fewer ribs', [FEWER]);
    await one.planner.edit('lantern', [SPARES], 'Bo');
    const late = one.planner.keepOption('lantern', { name: 'Late', changes: [FEWER], who: 'Ana', expected: 1 });
    expect(words(late)).toContain('Bo has changed the build since you opened it');
    expect(words(await one.planner.adoptOption('lantern', number, 'Ana', 1))).toContain('Bo has changed the build');
    expect((await optionsOf(one)).map(({ name }) => name)).toEqual(['Fewer ribs']);
  });

  it('that the plan has come to by itself is not adopted twice', async () => {
    const one = await bench();
    const number = await kept(one, 'Fewer ribs', [FEWER]);
    await one.planner.edit('lantern', [FEWER], 'Bo');
    expect(words(await one.planner.adoptOption('lantern', number, 'Ana', 2))).toContain('the plan is already so');
  });

  it('is on the disk, and belongs to its build alone', () => {
    const db = openDb();
    db.exec("insert into builds (key, id, revision, created_at) values (1, 'one', 1, ''), (2, 'two', 1, '')");
    const store = createOptionStore(db);
    const option = { name: 'Fewer', revision: 1, changes: [FEWER], savedAt: '2026-11-30T09:00:00Z', who: 'Ana' };
    const number = store.add(1, 'one', option);
    expect(store.of(1)).toEqual([{ number, ...option }]);
    expect(store.of(2)).toEqual([]);
    expect(store.drop(2, number)).toBe(false);
  });
});

describe('an edit that is seen first', () => {
  it('is not saved, and shows the plan as it is and as it would be', async () => {
    const { planner } = await bench();
    const seen = await planner.whatIf('lantern', [FEWER], 1);
    if (!seen.ok) throw new Error(words(seen));
    expect(seen.value.forecast.steps[0]!.left).toBe(30);
    expect(seen.value.present.steps[0]!.left).toBe(40);
    expect(planner.build('lantern')!.revision).toBe(1);
  });

  it('is refused as it would be when it is saved', async () => {
    const { planner } = await bench();
    expect(words(await planner.whatIf('lantern', [set('steps', 'cut', 'name', 'broken')], 1))).toContain('Nobody');
    expect(words(await planner.whatIf('lantern', [set('steps', 'gone', 'name', 'x')], 1))).toContain(
      'has removed the step "gone"',
    );
    await planner.edit('lantern', [SPARES], 'Bo');
    expect(words(await planner.whatIf('lantern', [FEWER], 1))).toContain('Bo has changed the build');
  });
});

describe('the last edit', () => {
  it('is known with what was said before it, until the next', async () => {
    const { planner, clock } = await bench();
    expect(planner.lastEdit('lantern')).toBeNull();
    const before = planner.latest('lantern')!.forecast.room.readyBy.finish;
    await planner.edit('lantern', [FEWER], 'maker');
    expect(planner.lastEdit('lantern')).toEqual({
      revision: 2,
      logSeq: 0,
      at: clock.now,
      before: { readyAt: before, chance: null, installed: null },
    });
  });
});
