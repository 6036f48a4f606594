import { describe, expect, it } from 'vitest';
import type { Change } from '../../server/model/index.ts';
import { lantern, openStore, SAVED } from '../store/helpers.ts';
import { bench, words } from './helpers.ts';

const set = (list: 'parts' | 'steps', key: string, field: string, value: unknown): Change => ({
  kind: 'set',
  list,
  key,
  field,
  value,
});
const COUNT = set('parts', 'ribs', 'count', 44);
const SPARES = set('parts', 'ribs', 'spares', 3);

/** A lantern with one edit for each list of changes, from edit 2 on. */
async function edited(...edits: readonly (readonly Change[])[]) {
  const { planner, ...rest } = await bench();
  for (const changes of edits) {
    const made = await planner.edit('lantern', changes, 'maker');
    if (!made.ok) throw new Error(words(made));
  }
  return { planner, ...rest, build: () => planner.build('lantern')!.build };
}

describe('an edit that is undone', () => {
  it('leaves what was edited after it', async () => {
    const { planner, build } = await edited([COUNT], [SPARES]);
    expect(await planner.undo('lantern', 2, 'Ana')).toEqual({ ok: true, value: { revision: 4 } });
    expect(build().parts![0]).toEqual({ ...lantern().parts![0], spares: 3 });
    expect(planner.revisions('lantern').at(-1)).toMatchObject({ who: 'Ana', cause: { code: 'undo', edit: 2 } });
    expect(planner.pastEdit('lantern', 4)?.changes).toEqual([set('parts', 'ribs', 'count', 40)]);
  });

  it('may itself be undone', async () => {
    const { planner, build } = await edited([COUNT]);
    await planner.undo('lantern', 2, 'maker');
    expect(build()).toEqual(lantern());
    await planner.undo('lantern', 3, 'maker');
    expect(build().parts![0]!.count).toBe(44);
  });

  it('brings back what it removed, where it was', async () => {
    const { planner, build } = await edited([{ kind: 'remove', list: 'steps', key: 'cut' }], [SPARES]);
    await planner.undo('lantern', 2, 'maker');
    expect(build().steps).toEqual(lantern().steps);
  });

  it('brings back what it removed, after what is left of those before it', async () => {
    const step = { id: 'oil', name: 'oil', takes: 30 };
    const { planner, build } = await edited(
      [{ kind: 'put', list: 'steps', key: 'oil', thing: step }],
      [{ kind: 'remove', list: 'steps', key: 'oil' }],
      [{ kind: 'remove', list: 'steps', key: 'glue' }],
    );
    await planner.undo('lantern', 3, 'maker');
    expect(build().steps.map(({ id }) => id)).toEqual(['cut', 'oil']);
  });

  it('is refused where the same was changed again since', async () => {
    const { planner, build } = await edited([COUNT], [set('parts', 'ribs', 'count', 50)]);
    expect(words(await planner.undo('lantern', 2, 'maker'))).toBe(
      'parts.ribs.count: This edit cannot be undone alone: "count" of the part “ribs” has been changed since. Undo the later edit first.',
    );
    expect(build().parts![0]!.count).toBe(50);
    expect(planner.revisions('lantern')).toHaveLength(3);
  });

  it('is refused where what it changed is gone', async () => {
    const { planner } = await edited(
      [set('steps', 'glue', 'lotSize', 4)],
      [{ kind: 'remove', list: 'steps', key: 'glue' }],
    );
    expect(words(await planner.undo('lantern', 2, 'maker'))).toMatch(
      /^steps\.glue: .*the step “glue” has been changed/,
    );
  });

  it('is refused where nothing of it is left', async () => {
    const { planner } = await edited([COUNT], [set('parts', 'ribs', 'count', 40)]);
    expect(words(await planner.undo('lantern', 2, 'maker'))).toMatch(/Nothing of this edit is left to undo/);
  });

  it('is refused where it would add an error', async () => {
    const store = openStore();
    const broken = lantern();
    broken.steps[0]!.name = 'broken';
    store.builds.create(broken, SAVED);
    store.builds.save(1, lantern(), { ...SAVED, cause: { code: 'edit' } });
    const { planner } = await bench({ store });
    expect(words(await planner.undo('lantern', 2, 'maker'))).toBe('steps.cut: Nobody may do it.');
  });

  it('is refused where there is none, or nothing before it', async () => {
    const { planner } = await edited();
    expect(words(await planner.undo('lantern', 1, 'maker'))).toMatch(/Edit 1 is where the build begins/);
    expect(words(await planner.undo('lantern', 7, 'maker'))).toMatch(/no edit 7; they are numbered 1 to 1/);
    expect(words(await planner.undo('arch', 2, 'maker'))).toMatch(/no build "arch"/);
  });
});

describe('two edits at once', () => {
  it('are both made where neither waits for an edit in particular', async () => {
    const { planner, build } = await edited();
    const both = await Promise.all([COUNT, SPARES].map((change) => planner.edit('lantern', [change], 'maker')));
    expect(both.every(({ ok }) => ok)).toBe(true);
    expect(build().parts![0]).toMatchObject({ count: 44, spares: 3 });
    expect(planner.revisions('lantern')).toHaveLength(3);
  });

  it('are one made and one refused where both were begun on the same edit', async () => {
    const { planner } = await edited();
    const both = await Promise.all([COUNT, SPARES].map((change) => planner.edit('lantern', [change], 'maker', 1)));
    expect(both.map((it) => (it.ok ? 'made' : it.problems[0]!.code)).sort()).toEqual(['conflict', 'made']);
    expect(planner.revisions('lantern')).toHaveLength(2);
  });
});
