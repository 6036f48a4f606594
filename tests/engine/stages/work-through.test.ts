import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { MeasuredPace } from '../../../server/engine/02-steps/index.ts';
import { measuredPaces } from '../../../server/engine/03-pace/index.ts';
import { compareEnds, endsOf, runFutures } from '../../../server/engine/08-risk/index.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { type Case, workThrough } from '../../../server/engine/stages/index.ts';
import { applyChanges, type Change, checkBuild } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { anyBuild, anyLog, entriesOf, NOW } from '../../support/random-builds.ts';

const DEMO = tideWall(NOW);
const demo: Case = { build: DEMO.build, log: DEMO.log!, now: NOW, levelling: { seed: 1, schedules: 20 } };
const paces = (...pairs: [string, MeasuredPace][]) => new Map(pairs);

/** What remains, as far as two workings can be compared. */
const lotsOf = ({ work, plans }: ReturnType<typeof workThrough>) => ({ lots: work.lots, links: work.links, plans });

/** What suppliers take, as the log has taught it. */
const leadsOf = ({ surroundings }: ReturnType<typeof workThrough>) =>
  [...surroundings.suppliers.values()].map(({ id, leadDays, expressDays, learnt }) => [
    id,
    leadDays,
    expressDays,
    learnt,
  ]);

describe('a case worked through', () => {
  test('comes to the same stages however deep it is asked for', () => {
    const remaining = workThrough(demo, 'work');
    const [dated, planned] = [workThrough(demo, 'dates'), workThrough(demo, 'schedules')];
    const chains = ({ work }: typeof remaining) => work.lots.map(({ id, phases }) => ({ id, phases }));
    expect(lotsOf(dated)).toEqual(lotsOf(remaining));
    expect(planned.dates).toEqual(dated.dates);
    expect(chains(planned)).toEqual(chains(remaining));
  });

  test('takes over what another case has of the same ground, and comes to the same', () => {
    fc.assert(
      fc.property(anyBuild, anyLog, fc.integer({ min: 1, max: 6 }), (candidate, told, panels) => {
        const checked = checkBuild(JSON.parse(JSON.stringify(candidate)));
        if (!checked.ok) return;
        const known = workThrough({ build: checked.value, log: entriesOf(told), now: NOW }, 'work');
        const other: Case = {
          ...known.asked,
          overrides: new Map([['panels', panels]]),
          paces: measuredPaces(known.paces),
        };
        expect(lotsOf(workThrough(other, 'work', known))).toEqual(lotsOf(workThrough(other, 'work')));
        expect(workThrough(other, 'work', known).surroundings).toBe(known.surroundings);
      }),
      { seed: 5, numRuns: 40 },
    );
  });

  test('takes the calendars over where a change leaves all hours as they are, and comes to the same', () => {
    let kept = 0;
    fc.assert(
      fc.property(anyBuild, anyLog, fc.nat(3), fc.integer({ min: 0, max: 9 }), (candidate, told, which, spares) => {
        const checked = checkBuild(JSON.parse(JSON.stringify(candidate)));
        if (!checked.ok) return;
        const known = workThrough({ build: checked.value, log: entriesOf(told), now: NOW }, 'work');
        const { parts = [], people = [] } = known.asked.build;
        const [part, person] = [parts[which % Math.max(1, parts.length)], people[0]];
        const changes: Change[] = [
          ...(part === undefined
            ? []
            : [{ kind: 'set', list: 'parts', key: part.id, field: 'spares', value: spares } as const]),
          ...(which > 0 || person === undefined
            ? []
            : [{ kind: 'set', list: 'people', key: person.id, field: 'hours', value: 'sat 09:00-11:00' } as const]),
        ];
        const made = applyChanges(known.asked.build, changes);
        if (!made.ok) return;
        const other: Case = { ...known.asked, build: made.value };
        const [shared, alone] = [workThrough(other, 'work', known), workThrough(other, 'work')];
        expect(lotsOf(shared)).toEqual(lotsOf(alone));
        expect(leadsOf(shared)).toEqual(leadsOf(alone));
        expect(shared.surroundings.resources).toEqual(alone.surroundings.resources);
        if (shared.asGiven === known.asGiven) kept += 1;
      }),
      { seed: 7, numRuns: 40 },
    );
    expect(kept).toBeGreaterThan(10);
  });

  test('takes nothing over from another instant, log or build', () => {
    const known = workThrough(demo, 'work');
    const later = workThrough({ ...demo, now: NOW + 600 }, 'work', known);
    expect(later.surroundings.now).toBe(NOW + 600);
    expect(workThrough({ ...demo, log: [] }, 'work', known).tally.firstAt).toBeNull();
    const build = { ...demo.build, event: demo.build.event.replace(/T.*/, 'T20:00') };
    expect(workThrough({ ...demo, build }, 'work', known).surroundings.event).toBe(known.surroundings.event + 60);
  });

  test('depends on its arguments alone: a forecast at other paces leaves nothing behind', () => {
    const fresh = () => ({ build: structuredClone(demo.build), log: demo.log });
    const { build, log } = fresh();
    const slow = paces(['sand-fish', { firstUnitMinutes: 400, origin: 'measured' }]);
    planBuild(build, log, NOW, { levelling: { seed: 1, schedules: 1 }, paces: slow });
    const after = planBuild(build, log, NOW, { levelling: { seed: 1, schedules: 1 } });
    const alone = planBuild(fresh().build, log, NOW, { levelling: { seed: 1, schedules: 1 } });
    expect(after.burn).toEqual(alone.burn);
    expect(after).toEqual(alone);
  });
});

describe('given paces', () => {
  const planned = workThrough(demo, 'schedules');

  test('are believed as much as the counts they stand for', () => {
    const same = workThrough({ ...demo, paces: measuredPaces(planned.paces) }, 'schedules');
    for (const [step, pace] of same.paces) expect(pace.belief.shape).toBe(planned.paces.get(step)!.belief.shape);
    const [one, two] = [planned, same].map((each) => runFutures(each, { seed: 1, futures: 60, exactness: 0 })!);
    expect(two!.readyAt).toEqual(one!.readyAt);
    expect(compareEnds(endsOf(one!), endsOf(two!)).readyBy).toEqual({ mean: 0, error: 0 });
  });

  test('turn the belief of one step to other minutes, and leave the others as they are', () => {
    const known = measuredPaces(planned.paces);
    const step = [...known.keys()][0]!;
    const twice = { firstUnitMinutes: 2 * known.get(step)!.firstUnitMinutes, origin: 'measured' as const };
    const other = workThrough({ ...demo, paces: new Map([...known, [step, twice]]) }, 'work');
    const [before, after] = [planned.paces.get(step)!, other.paces.get(step)!];
    const learnt = after.learningRate === before.learningRate;
    expect(after.firstUnitMinutes).toBe(twice.firstUnitMinutes);
    expect(after.belief.shape).toBe(before.belief.shape);
    if (learnt) expect(after.high / before.high).toBeCloseTo(2, 9);
    for (const [id, pace] of other.paces)
      if (id !== step) expect(pace.high).toBeCloseTo(planned.paces.get(id)!.high, 9);
  });

  test('leave a step that has none at its estimate, whatever was counted', () => {
    const other = workThrough({ ...demo, paces: new Map() }, 'work');
    const uncounted = workThrough({ ...demo, log: [] }, 'work');
    for (const [step, { belief }] of other.paces) expect(belief).toEqual(uncounted.paces.get(step)!.belief);
  });
});
