/** Builds that make sense, half built, drawn from a seed: for what a schedule of a build must keep, whoever made it. */
import { Random } from '../../../server/engine/numbers/random.ts';
import type { After, Build, LogEntry, Step } from '../../../server/model/index.ts';

/** Tue 1 Dec 2026 17:00 UTC, when they are looked at. */
export const LIVELY_NOW = Date.UTC(2026, 11, 1, 17) / 60_000;

const TYPES = ['finish-start', 'start-start', 'finish-finish', 'start-finish'] as const;

/**
 * Panels in sets, made of ribs, with a gate on each and load-in on site; crews of two, a mill in one or two runs, an
 * oven that somebody must stay with, drying, typed links, shares that need not come out even, yields and spares; and
 * what was counted, loaded, failed and sent back so far.
 */
export function livelyBuild(seed: number): { build: Build; log: LogEntry[] } {
  const random = new Random(seed);
  const some = (least: number, most: number) => least + random.below(most - least + 1);
  const often = (inTen: number) => random.below(10) < inTen;
  const sets = some(1, 4);
  const panels = sets * some(1, 2) + (often(3) ? 1 : 0);
  const ribsEach = some(1, 3);
  const perSet = sets > 1 && often(7);
  const cutPerSet = perSet && often(5);
  const typed = (from: string): After[] => {
    const type = TYPES[random.below(4)]!;
    if (type === 'finish-start' && often(5)) return [from];
    return [{ step: from, type, lag: some(-60, 300), lagIn: often(3) ? 'working' : 'clock' }];
  };
  const mill: Step['phases'] = often(5)
    ? [
        { kind: 'hands', minutes: some(5, 15) },
        { kind: 'run', machine: 'mill', minutes: some(30, 200) },
        { kind: 'hands', minutes: some(5, 15) },
        { kind: 'run', machine: 'mill', minutes: some(30, 200) },
        { kind: 'hands', minutes: some(5, 10) },
      ]
    : [
        { kind: 'hands', minutes: some(5, 15) },
        { kind: 'run', machine: 'mill', minutes: some(60, 300) },
        { kind: 'hands', minutes: some(5, 15) },
      ];
  const coat: Step['phases'] = [
    { kind: 'hands', perUnit: some(4, 15) },
    { kind: 'wait', minutes: some(60, 700) },
    ...(often(4) ? [{ kind: 'hands' as const, minutes: some(5, 20) }] : []),
  ];
  const steps: Step[] = [
    {
      id: 'cut',
      name: 'cut',
      part: 'rib',
      perSet: cutPerSet,
      lotSize: some(1, 6),
      phases: [{ kind: 'hands', perUnit: some(3, 20) }],
    },
    { id: 'mill', name: 'mill', part: 'rib', perSet: cutPerSet, lotSize: some(2, 6), phases: mill },
    ...(often(6)
      ? [{ id: 'coat', name: 'coat', part: 'rib', perSet: cutPerSet, lotSize: some(2, 6), phases: coat }]
      : []),
    {
      id: 'draw',
      name: 'draw',
      count: some(1, 4),
      lotSize: 1,
      phases: [{ kind: 'hands', minutes: some(20, 150), oneGo: often(4) }],
    },
    {
      id: 'fit',
      name: 'fit',
      part: 'panel',
      perSet,
      lotSize: some(1, 3),
      phases: [{ kind: 'hands', perUnit: some(10, 60), people: often(3) ? 2 : 1 }],
      ...(often(4) ? { after: typed('draw') } : {}),
    },
    {
      id: 'bake',
      name: 'bake',
      part: 'panel',
      perSet,
      lotSize: 1,
      phases: [{ kind: 'run', machine: 'oven', minutes: some(30, 150) }],
      ...(often(3) ? { after: typed('draw') } : {}),
    },
    {
      id: 'trim',
      name: 'trim',
      count: some(1, 5),
      lotSize: some(1, 3),
      phases: [{ kind: 'hands', perUnit: some(5, 40) }],
      after: typed(often(5) ? 'mill' : 'cut'),
    },
    {
      id: 'mount',
      name: 'mount',
      part: 'panel',
      perSet,
      lotSize: some(1, 3),
      phases: [{ kind: 'hands', perUnit: some(10, 40), people: often(4) ? 2 : 1 }],
    },
    {
      id: 'hang',
      name: 'hang',
      onSite: true,
      phases: [{ kind: 'hands', minutes: some(30, 200), people: 2 }],
      after: ['mount'],
    },
  ];
  const build: Build = {
    id: 'lively',
    name: 'Lively',
    zone: 'UTC',
    start: '2026-11-25T08:00',
    event: '2027-01-10T19:00',
    loadIn: '2027-01-09T08:00',
    sets: { count: sets, name: 'bay' },
    people: [
      { id: 'ana', name: 'Ana', hours: 'mon-fri 17:00-22:00; sat 09:00-17:00' },
      { id: 'ben', name: 'Ben', hours: 'mon-fri 08:00-12:00 13:00-18:00' },
      { id: 'cem', name: 'Cem', hours: 'daily 10:00-14:00 16:00-20:00' },
    ],
    machines: [
      { id: 'mill', name: 'mill', count: some(1, 2), ...(often(4) ? { hours: 'daily 08:00-20:00' } : {}) },
      { id: 'oven', name: 'oven', unattended: false },
    ],
    parts: [
      {
        id: 'rib',
        name: 'rib',
        source: 'make',
        usedIn: [{ part: 'panel', count: ribsEach }],
        ...(often(5) ? { spares: some(1, 2) } : {}),
        ...(often(4) ? { yield: some(70, 95) / 100 } : {}),
        ...(often(2) ? { onHand: some(1, 3) } : {}),
      },
      { id: 'panel', name: 'panel', source: 'make', count: panels },
    ],
    steps,
    gates: [
      {
        id: 'check',
        name: 'check',
        perSet,
        after: ['bake'],
        before: ['mount'],
        minutes: some(10, 60),
        failChance: 0.2,
        sendsBack: [{ step: 'fit', units: 1 }],
        proveFirst: perSet && often(5),
      },
    ],
  };
  return { build, log: often(8) ? logOf(build, random) : [] };
}

/** What was tapped in the days before: some of the first steps, a load or two, and a check that failed. */
function logOf({ steps, parts, sets }: Build, random: Random): LogEntry[] {
  const log: LogEntry[] = [];
  let hours = 120;
  const tell = (kind: LogEntry['kind'], more: Partial<LogEntry>) => {
    hours -= 1 + random.below(6);
    const at = new Date((LIVELY_NOW - Math.max(0.1, hours) * 60) * 60_000).toISOString();
    log.push({ id: `entry-${1000 + log.length}`, seq: log.length + 1, kind, at, ...more });
  };
  const ribs = Number(parts![0]!.usedIn![0]!.count);
  const setCount = Number(sets!.count);
  const isPerSet = (id: string) => steps.find((step) => step.id === id)?.perSet === true;
  const perSet = isPerSet('fit');
  const inSet = (id: string) => (isPerSet(id) ? { set: 1 } : {});
  const hasCoat = steps.some(({ id }) => id === 'coat');
  const far = random.below(4);
  const done = Math.max(1, ribs * (1 + random.below(2)));
  tell('done', { step: 'cut', n: done, ...inSet('cut') });
  if (far > 0) {
    tell('done', { step: 'mill', n: done, ...inSet('mill') });
    if (hasCoat) tell('done', { step: 'coat', n: done, ...inSet('coat') });
  }
  if (far > 1) {
    tell('done', { step: 'fit', n: 1, ...inSet('fit') });
    tell('done', { step: 'bake', n: 1, ...inSet('bake') });
  }
  if (far > 2 && (perSet ? true : setCount === 1)) {
    tell('failed', { step: 'check', ...inSet('fit') });
    tell('sent-back', { step: 'fit', n: 1, ...inSet('fit') });
  }
  if (random.below(2) === 0) {
    tell('done', { step: 'cut', n: 2, ...inSet('cut') });
    hours = 1 + random.below(4);
    tell('loaded', { step: 'mill', n: 1 + random.below(2), ...inSet('mill'), person: 'ben', who: 'Ben' });
  }
  if (random.below(3) === 0) {
    hours = 1;
    tell('loaded', { step: 'bake', n: 1, ...inSet('bake'), person: 'cem', who: 'Cem' });
  }
  if (random.below(3) === 0) tell('done', { step: 'draw', n: 1 });
  return log;
}
