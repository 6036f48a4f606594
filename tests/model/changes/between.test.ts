import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyChanges, type Build, type Change, changesBetween, THING_LISTS } from '../../../server/model/index.ts';
import { anyBuild } from '../../support/changes/any-build.ts';
import { fakeBuild } from '../../support/fake-build.ts';

/** An empty list says the same as none. */
function withoutEmptyLists(build: Build): Build {
  const empty = new Set<string>(THING_LISTS.filter((list) => list !== 'steps' && build[list]?.length === 0));
  return Object.fromEntries(Object.entries(build).filter(([key]) => !empty.has(key))) as Build;
}

function applied(build: Build, changes: readonly Change[]): Build {
  const result = applyChanges(build, changes);
  if (!result.ok) throw new Error(result.problems.map(({ message }) => message).join(' '));
  return result.value;
}

const build = fakeBuild();
const edited = (edit: (draft: Build) => void): Change[] => {
  const draft = structuredClone(build);
  edit(draft);
  return changesBetween(build, draft);
};

describe('the changes between two builds', () => {
  it('turn any build into any other', () => {
    fc.assert(
      fc.property(anyBuild, anyBuild, (before, after) => {
        const there = applied(before, changesBetween(before, after));
        expect(withoutEmptyLists(there)).toEqual(withoutEmptyLists(after));
      }),
      { numRuns: 400 },
    );
  });

  it('are the same after a way through JSON', () => {
    fc.assert(
      fc.property(anyBuild, anyBuild, (before, after) => {
        const changes = JSON.parse(JSON.stringify(changesBetween(before, after))) as Change[];
        expect(withoutEmptyLists(applied(before, changes))).toEqual(withoutEmptyLists(after));
      }),
      { numRuns: 100 },
    );
  });

  it('do not depend on the order they are told in, places left out', () => {
    fc.assert(
      fc.property(anyBuild, anyBuild, fc.infiniteStream(fc.nat()), (before, after, dice) => {
        const changes = changesBetween(before, after);
        const isPlaced = ({ kind }: Change) => kind === 'put' || kind === 'move';
        const rest = changes.filter((it) => !isPlaced(it)).map((it) => [dice.next().value, it] as const);
        const shuffled = rest.sort(([a], [b]) => a - b).map(([, it]) => it);
        const told = [...changes.filter(isPlaced), ...shuffled];
        expect(withoutEmptyLists(applied(before, told))).toEqual(withoutEmptyLists(after));
      }),
      { numRuns: 100 },
    );
  });

  it('are none between a build and itself, whatever the order of its keys', () => {
    const turned = Object.fromEntries(Object.entries(build).reverse()) as Build;
    expect(changesBetween(build, turned)).toEqual([]);
    expect(applyChanges(build, [])).toEqual({ ok: true, value: build });
  });

  it('leave the build they begin with as it was', () => {
    const before = JSON.stringify(build);
    applied(build, changesBetween(build, { ...build, name: 'x', steps: [], parts: [] }));
    expect(JSON.stringify(build)).toBe(before);
  });

  it('are one field where one field differs', () => {
    const changes = edited((draft) => {
      draft.parts![1]!.spares = 6;
    });
    expect(changes).toEqual([{ kind: 'set', list: 'parts', key: 'fish', field: 'spares', value: 6 }]);
  });

  it('empty a field that is left out', () => {
    const changes = edited((draft) => {
      delete draft.readyBy;
      delete draft.parts![1]!.spares;
    });
    expect(changes).toEqual([
      { kind: 'set', list: 'build', field: 'readyBy' },
      { kind: 'set', list: 'parts', key: 'fish', field: 'spares' },
    ]);
  });

  it('move one thing alone where one thing was moved, up or down', () => {
    const up = edited(({ steps }) => steps.unshift(steps.pop()!));
    expect(up).toEqual([{ kind: 'move', list: 'steps', key: build.steps.at(-1)!.id, after: null }]);
    const down = edited(({ steps }) => steps.push(steps.shift()!));
    const last = build.steps.at(-1)!.id;
    expect(down).toEqual([{ kind: 'move', list: 'steps', key: build.steps[0]!.id, after: last }]);
  });

  it('put a new thing where it is, and at the end without a place', () => {
    const saw = { id: 'saw-bench', name: 'saw bench' };
    expect(edited((draft) => draft.machines!.push(saw))).toEqual([
      { kind: 'put', list: 'machines', key: 'saw-bench', thing: saw },
    ]);
    expect(edited((draft) => draft.machines!.unshift(saw))).toEqual([
      { kind: 'put', list: 'machines', key: 'saw-bench', thing: saw, after: null },
    ]);
  });

  it('tell two feeds between the same steps apart', () => {
    const [feed] = build.feeds!;
    const changes = edited((draft) => draft.feeds!.push({ ...feed!, lag: 30 }));
    expect(changes).toEqual([
      { kind: 'put', list: 'feeds', key: `${feed!.from}>${feed!.to}#2`, thing: { ...feed, lag: 30 } },
    ]);
  });
});
