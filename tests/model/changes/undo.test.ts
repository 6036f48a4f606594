import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyChanges,
  type Build,
  type Change,
  changesBack,
  changesBetween,
  THING_LISTS,
} from '../../../server/model/index.ts';
import { anyBuild } from '../../support/changes/any-build.ts';
import { fakeBuild } from '../../support/fake-build.ts';

function applied(build: Build, changes: readonly Change[]): Build {
  const result = applyChanges(build, changes);
  if (!result.ok) throw new Error(result.problems.map(({ message }) => message).join(' '));
  return result.value;
}

function withoutEmptyLists(build: Build): Build {
  const empty = new Set<string>(THING_LISTS.filter((list) => list !== 'steps' && build[list]?.length === 0));
  return Object.fromEntries(Object.entries(build).filter(([key]) => !empty.has(key))) as Build;
}

describe('the changes that take an edit back', () => {
  it('lead to the build before it, from any build to any other', () => {
    fc.assert(
      fc.property(anyBuild, anyBuild, (before, after) => {
        const changes = changesBetween(before, after);
        fc.pre(changes.length > 0);
        const back = changesBack({ before, after, changes }, after);
        if (!back.ok) throw new Error(back.problems[0]!.message);
        expect(withoutEmptyLists(applied(after, back.value))).toEqual(withoutEmptyLists(before));
      }),
      { numRuns: 200 },
    );
  });

  it('either keep what was edited since, or are refused', () => {
    let kept = 0;
    fc.assert(
      fc.property(anyBuild, anyBuild, anyBuild, fc.integer({ min: 1, max: 3 }), (before, after, other, few) => {
        const changes = changesBetween(before, after).slice(0, few);
        const made = applyChanges(before, changes);
        fc.pre(changes.length > 0 && made.ok);
        const edited = made.ok ? made.value : before;
        const since = changesBetween(edited, other).filter(({ kind }) => kind === 'set');
        const present = applied(edited, since);
        const back = changesBack({ before, after: edited, changes }, present);
        if (!back.ok) return;
        const result = applyChanges(present, back.value);
        if (!result.ok) return;
        kept += 1;
        const left = changesBetween(before, result.value);
        for (const change of left) expect(since).toContainEqual(change);
      }),
      { numRuns: 300 },
    );
    expect(kept).toBeGreaterThan(30);
  });

  it('call a renamed parameter back, also where it was used since', () => {
    const before = fakeBuild();
    const changes: Change[] = [
      { kind: 'rename', list: 'parameters', key: 'panels', to: 'boards' },
      { kind: 'set', list: 'parameters', key: 'panels', field: 'value', value: 4 },
    ];
    const after = applied(before, changes);
    const present = applied(after, [{ kind: 'set', list: 'parts', key: 'fish', field: 'spares', value: 'boards + 1' }]);
    const back = changesBack({ before, after, changes }, present);
    const there = applied(present, back.ok ? back.value : []);
    expect(there).toEqual({
      ...before,
      parts: before.parts!.map((it) => (it.id === 'fish' ? { ...it, spares: 'panels + 1' } : it)),
    });
  });
});
