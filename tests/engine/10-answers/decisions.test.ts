import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import { applyChanges, type Build, type Decision, readAnswerText } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T08:00Z') / 60_000;

/** Boughs that are cut here in a day, or come from a welder who takes five working days; to decide which. */
function arch(decision: Partial<Decision>): Build {
  return {
    id: 'arch',
    name: 'arch',
    zone: 'UTC',
    event: '2026-12-20T18:00',
    suppliers: [{ id: 'welder', name: 'welder', lead: 5 }],
    people: [{ id: 'ria', name: 'Ria', hours: 'mon-fri 09:00-17:00' }],
    parts: [
      {
        id: 'bough',
        name: 'bough',
        source: 'make',
        count: 8,
        ways: [
          { id: 'here', name: 'here', source: 'make' },
          { id: 'welder', name: 'welder', source: 'send-out', supplier: 'welder' },
        ],
      },
    ],
    steps: [
      { id: 'cut', name: 'cut', part: 'bough', way: 'here', phases: [{ kind: 'hands', perUnit: 30 }] },
      { id: 'fit', name: 'fit', after: ['cut'], phases: [{ kind: 'hands', minutes: 60 }] },
    ],
    decisions: [{ id: 'who', question: 'Who makes the boughs?', waits: ['order-bough'], ...decision }],
  };
}

const answers = [
  { name: 'We do', changes: readAnswerText('bough: here')! },
  { name: 'The welder', changes: readAnswerText('bough: welder')! },
];
const decided = (build: Build) => planBuild(build, [], NOW).decisions[0]!;

describe('the last moment of a decision', () => {
  it('is that of the way that needs the longest, whichever is planned now', () => {
    const [asCut, open] = [arch({}), arch({ answers })].map(decided);
    const [here, welder] = open!.answers!;
    expect(here!.name).toBe('We do');
    expect(here!.by! - welder!.by!).toBeGreaterThan(3 * 1440);
    expect(open!.decideBy).toBe(welder!.by);
    expect(asCut!.decideBy).toBeGreaterThan(open!.decideBy!);
    expect(asCut!.answers).toBeUndefined();
  });

  it('of how something is done on site is never before the load-in, though the hours there be too few', () => {
    const build = arch({ waits: ['hang'], answers: [{ name: 'Two posts', changes: readAnswerText('posts = 2')! }] });
    const loadIn = '2026-12-20T08:00';
    const people = [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }];
    const phases = [{ kind: 'hands' as const, minutes: 'posts * 480' }];
    const hang = { id: 'hang', name: 'hang', onSite: true, after: ['fit'], phases };
    const onSite = {
      ...build,
      loadIn,
      people,
      parameters: [{ name: 'posts', value: 3 }],
      steps: [...build.steps, hang],
    };
    const { decideBy, answers: ways } = decided(onSite);
    expect([decideBy, ways![0]!.by]).toEqual([Date.parse(`${loadIn}Z`) / 60_000, Date.parse(`${loadIn}Z`) / 60_000]);
  });

  it('is that of what is still to be ordered, once some of it is under way', () => {
    const build = arch({});
    const hook = { id: 'hook', name: 'hook', source: 'buy' as const, count: 8, supplier: 'welder' };
    const log = [{ id: 'entry-0001', kind: 'ordered' as const, step: 'order-hook', n: 2, at: '2026-11-30T10:00:00Z' }];
    const of = (parts: NonNullable<Build['parts']>, waits: string[]) => {
      const { decisions, lots } = planBuild(
        { ...build, parts, decisions: [{ ...build.decisions![0]!, waits }] },
        log,
        NOW,
      );
      return { by: decisions[0]!.decideBy, lots: lots.filter(({ step }) => step === 'order-hook') };
    };
    const { by, lots } = of([...build.parts!, hook], ['order-hook']);
    expect(lots.map(({ begun }) => begun)).toEqual([true, false]);
    expect(by).toBe(Math.min(lots[1]!.levelled!.lastStart!, lots[1]!.dates.lateStart!));
    expect(by).toBeGreaterThan(NOW);
    // Nothing that is still to be ordered waits for it.
    expect(of([...build.parts!, { ...hook, count: 2 }], ['order-hook']).by).toBeNull();
  });

  it('does not go by a part whose name only begins like that of the part that is decided', () => {
    const build = arch({ answers });
    const peg = { id: 'bough--peg', name: 'peg', source: 'make' as const, count: 200 };
    const turn = {
      id: 'turn',
      name: 'turn',
      part: 'bough--peg',
      lotSize: 200,
      phases: [{ kind: 'hands' as const, perUnit: 30 }],
    };
    const more = { ...build, parts: [...build.parts!, peg], steps: [...build.steps, turn] };
    expect(decided(more).answers).toEqual(decided(build).answers);
  });

  it('is that of the order where the order waits, as the plan with that answer has it', () => {
    const build = arch({ answers });
    const sent = applyChanges(build, [{ kind: 'set', list: 'parts', key: 'bough', field: 'way', value: 'welder' }]);
    const { orders, problems } = planBuild(sent.ok ? sent.value : build, [], NOW);
    expect(problems).toEqual([]);
    const late = decided(build).decideBy!;
    expect(late).toBeLessThanOrEqual(orders[0]!.orderBy);
    expect(orders[0]!.orderBy - late).toBeLessThan(1440);
  });

  it('leaves out an answer that cannot be made, and says which it is', () => {
    const wrong = arch({ answers: [...answers, { name: 'Fewer', changes: readAnswerText('panels = 3')! }] });
    const { problems, decisions } = planBuild(wrong, [], NOW);
    expect(decisions[0]!.answers![2]).toEqual({ name: 'Fewer', by: null });
    expect(problems).toMatchObject([{ severity: 'warning', field: 'decisions.who.answers.2.changes' }]);
  });

  it('says of an answer that is no longer possible that it is not, and goes by the others', () => {
    const late = { ...arch({ answers }), event: '2026-12-04T18:00' };
    const { decideBy, answers: both } = decided(late);
    expect(both).toMatchObject([{ name: 'We do' }, { name: 'The welder', by: null }]);
    expect(decideBy).toBeGreaterThan(NOW);
  });
});
