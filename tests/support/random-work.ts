/** Invented builds for tests: every kind of phase, link and bound, drawn from a seed. */
import { calendarFrom } from '../../server/engine/calendar/working-time.ts';
import { Random } from '../../server/engine/numbers/random.ts';
import type {
  ArrivalTable,
  Calendar,
  HandsPhase,
  Link,
  Lot,
  Phase,
  Resource,
  Work,
} from '../../server/engine/types.ts';
import { LINK_TYPES } from '../../server/engine/types.ts';

const DAY = 1440;
const START = 20_000 * DAY;

export interface RandomWorkOptions {
  readonly seed: number;
  readonly lots: number;
  /** Days the calendars reach. */
  readonly days?: number;
  /** Only finish-start links without lag, no lots under way, no pins. */
  readonly simple?: boolean;
  /** Without demands on the pool. */
  readonly handsOnly?: boolean;
  /** Many lots under way, on machines, in waits, in somebody's hands; links to their ends among others. */
  readonly begun?: boolean;
  /**
   * Also pieces that are turned over between two runs of a machine, work in one go after hands, and nine helpers more
   * for crews of up to five.
   */
  readonly wide?: boolean;
  /** All three people keep the same hours. */
  readonly alike?: boolean;
}

/** A build with three people, a two-fold printer, a router that must be attended, a pool, a station and a supplier. */
export function randomWork({
  seed,
  lots: count,
  days = 120,
  simple = false,
  handsOnly = false,
  wide = false,
  begun = false,
  alike = false,
}: RandomWorkOptions): Work {
  const random = new Random(seed);
  const now = START + 9 * 60;
  const resources: Resource[] = [
    {
      id: 'ann',
      name: 'first',
      kind: 'person',
      capacity: 1,
      open: daily(
        days,
        [
          [8 * 60, 12 * 60],
          [13 * 60, 17 * 60],
        ],
        7,
      ),
    },
    { id: 'bob', name: 'second', kind: 'person', capacity: 1, open: daily(days, [[16 * 60, 22 * 60]], 7) },
    { id: 'cyd', name: 'third', kind: 'person', capacity: 1, open: daily(days, [[10 * 60, 18 * 60]], 2) },
    { id: 'print', name: 'printer', kind: 'machine', capacity: 2, open: daily(days, [[0, DAY]], 1) },
    { id: 'route', name: 'router', kind: 'machine', capacity: 1, open: daily(days, [[8 * 60, 20 * 60]], 7) },
    { id: 'rack', name: 'rack', kind: 'station', capacity: 2, open: daily(days, [[0, DAY]], 1) },
    { id: 'air', name: 'air', kind: 'pool', capacity: 3, open: daily(days, [[6 * 60, 23 * 60]], 1) },
  ];
  if (alike) for (const person of [1, 2]) resources[person] = { ...resources[person]!, open: resources[0]!.open };
  const helpers = wide ? 9 : 0;
  for (let h = 0; h < helpers; h++) {
    const hours: [number, number][] = h < 6 ? [[9 * 60, 17 * 60]] : [[12 * 60, 21 * 60]];
    resources.push({
      id: `helper ${h}`,
      name: `helper ${h}`,
      kind: 'person',
      capacity: 1,
      open: daily(days, hours, 1),
    });
  }
  const crowd = [0, 1, 2, ...Array.from({ length: helpers }, (_, h) => 7 + h)];
  const arrivals = supplierTable(days);
  const all = resources[0]!.open;
  const hands = (minutes: number, people = 1, oneGo = false): Phase => ({
    kind: 'hands',
    minutes,
    people,
    eligible: people > 1 || random.below(2) === 0 ? [0, 1, 2] : [random.below(3)],
    oneGo,
    open: all,
  });
  const chains: (() => Phase[])[] = [
    () => [hands(10 + random.below(300))],
    () => [hands(10 + random.below(100), 1, true)],
    () => [hands(5 + random.below(60), 2)],
    () => [
      hands(8),
      { kind: 'run', minutes: 60 + random.below(600), machine: 3, attended: false, people: 0, eligible: [], open: all },
      hands(4),
    ],
    () => [
      {
        kind: 'run',
        minutes: 10 + random.below(90),
        machine: 4,
        attended: true,
        people: 1,
        eligible: [0, 1, 2],
        open: all,
      },
    ],
    () => [hands(25), { kind: 'wait', minutes: 240 }],
    () => [hands(25), { kind: 'wait', minutes: 90 }, hands(15)],
    () => [hands(15), { kind: 'lead', workingDays: 3, arrivals }],
    () => [hands(15), { kind: 'lead', workingDays: 3, arrivals }, hands(20)],
    () => [
      { kind: 'demand', minutes: 30 + random.below(120), demands: [{ resource: 6, amount: 1 + random.below(3) }] },
    ],
    () => [hands(12), hands(30)],
    () => [],
  ];
  const print = (minutes: number): Phase => ({
    kind: 'run',
    minutes,
    machine: 3,
    attended: false,
    people: 0,
    eligible: [],
    open: all,
  });
  const wider: (() => Phase[])[] = [
    () => [hands(8), print(40 + random.below(200)), hands(5), print(40 + random.below(200)), hands(4)],
    () => [hands(8), print(30), print(20 + random.below(90)), hands(4)],
    () => [print(60), hands(6), print(50)],
    () => [hands(10 + random.below(60)), hands(20 + random.below(200), 1, true)],
    () => [hands(15), hands(30, 1, true), hands(20)],
    () => [{ ...(hands(20 + random.below(100), 3) as HandsPhase), people: 3 + random.below(3), eligible: crowd }],
    () => [
      hands(10),
      { ...(hands(20 + random.below(60), 3) as HandsPhase), people: 3 + random.below(3), eligible: crowd },
    ],
  ];
  if (wide) chains.push(...wider);
  const draw = (): Phase[] => {
    const phases = chains[random.below(chains.length)]!();
    return handsOnly && phases[0]?.kind === 'demand' ? draw() : phases;
  };
  const lots = Array.from({ length: count }, (_, l): Lot => {
    const phases = draw();
    const special = simple ? 99 : random.below(20);
    const loaded = special === 0 && phases[1]?.kind === 'run' && phases.length === 3;
    return {
      id: `lot ${l}`,
      step: random.below(6),
      set: null,
      number: 1,
      firstUnit: 1,
      lastUnit: 1,
      phases: loaded ? phases.slice(1) : phases,
      release: special === 1 ? now + random.below(3 * DAY) : now,
      deadline: now + (days - 20) * DAY,
      begunAt: loaded ? now - random.below(200) : null,
      pinnedStart: special === 2 ? now + random.below(5 * DAY) : null,
      pinnedPeople: special === 3 ? [2] : null,
      station: special >= 4 && special < 7 ? 5 : null,
      onSite: l >= count - 2,
    };
  });
  const underWay = begun ? withMoreBegun(random, lots, resources, now) : lots;
  return {
    now,
    readyBy: now + (days - 30) * DAY,
    loadIn: null,
    event: now + (days - 20) * DAY,
    resources,
    lots: underWay,
    links: withoutStandoffs(underWay, [
      ...links(random, underWay, all, simple),
      ...(begun ? endLinks(random, underWay) : []),
    ]),
  };
}

function links(random: Random, lots: readonly Lot[], open: Calendar, simple: boolean): Link[] {
  const found: Link[] = [];
  for (let to = 1; to < lots.length; to++) {
    for (let k = random.below(3); k > 0; k--) {
      const plain = simple || random.below(4) > 0;
      found.push({
        from: Math.max(0, to - 1 - random.below(12)),
        to,
        type: plain ? 'finish-start' : LINK_TYPES[random.below(4)]!,
        lagMinutes: plain ? 0 : random.below(300) - 100,
        lagOpen: plain || random.below(2) === 0 ? null : open,
        reason: 'feed',
      });
    }
  }
  return found;
}

/** Some of the lots begun: no more on a machine than there are of it, and one at most in somebody's hands. */
function withMoreBegun(random: Random, lots: readonly Lot[], resources: readonly Resource[], now: number): Lot[] {
  const taken = resources.map(() => 0);
  const runsOn = ({ phases: [first, second] }: Lot) =>
    first?.kind === 'run' ? first.machine : first?.kind === 'hands' && second?.kind === 'run' ? second.machine : -1;
  for (const lot of lots) if (lot.begunAt !== null) taken[runsOn(lot)]! += 1;
  let hasHands = false;
  return lots.map((lot) => {
    if (lot.begunAt !== null || lot.station !== null || random.below(3) > 0) return lot;
    const skipped = lot.phases[0]?.kind === 'hands' && lot.phases.length > 1 && random.below(3) > 0 ? 1 : 0;
    const phases = lot.phases.slice(skipped);
    const first = phases[0];
    const started: Lot = { ...lot, phases, begunAt: now - random.below(200), pinnedStart: null, pinnedPeople: null };
    if (first?.kind === 'wait' || first?.kind === 'lead') return started;
    const isByHand = first?.kind === 'hands' || (first?.kind === 'run' && first.attended);
    if (first === undefined || first.kind === 'demand' || (isByHand && hasHands)) return lot;
    const machine = runsOn(started);
    if (machine >= 0 && taken[machine]! >= resources[machine]!.capacity) return lot;
    if (machine >= 0) taken[machine]! += 1;
    hasHands ||= isByHand;
    return started;
  });
}

/**
 * Without links to the end of what is under way from work that needs the machine or the place it keeps until then: both
 * would wait for ever.
 */
export function withoutStandoffs(lots: readonly Lot[], given: readonly Link[]): Link[] {
  const needs = (lot: Lot) => [
    ...lot.phases.flatMap((phase) => (phase.kind === 'run' ? [phase.machine] : [])),
    ...(lot.station === null ? [] : [lot.station]),
  ];
  const kept: Link[] = [];
  const before = (l: number): Set<number> => {
    const found = new Set([l]);
    for (const lot of found) for (const { from, to } of given) if (to === lot) found.add(from);
    return found;
  };
  for (const link of given) {
    const target = lots[link.to]!;
    const waits = target.begunAt !== null && link.type.endsWith('-finish');
    const own = needs(target);
    if (waits && [...before(link.from)].some((l) => needs(lots[l]!).some((r) => own.includes(r)))) continue;
    kept.push(link);
  }
  return kept;
}

/** Links to the ends of what is under way, from what comes before it in the list. */
function endLinks(random: Random, lots: readonly Lot[]): Link[] {
  return lots.flatMap((lot, to): Link[] => {
    if (lot.begunAt === null || to === 0 || random.below(2) === 0) return [];
    const type = random.below(3) > 0 ? 'finish-finish' : 'start-finish';
    return [{ from: random.below(to), to, type, lagMinutes: random.below(300) - 60, lagOpen: null, reason: 'feed' }];
  });
}

/** The same hours every day (everyNth 1), on weekdays (7: five of seven), or on every second day (2). */
function daily(days: number, hours: [number, number][], pattern: number): Calendar {
  const intervals: [number, number][] = [];
  for (let d = 0; d < days; d++) {
    if (pattern === 7 ? d % 7 > 4 : d % pattern !== 0) continue;
    for (const [from, to] of hours) intervals.push([START + d * DAY + from, START + d * DAY + to]);
  }
  return calendarFrom(intervals);
}

function supplierTable(days: number): ArrivalTable {
  const cutoffs: number[] = [];
  const arrivals: number[] = [];
  for (let d = 0; d < days; d++) {
    cutoffs.push(START + d * DAY + 14 * 60);
    arrivals.push(START + (d + 3) * DAY + 10 * 60);
  }
  return { cutoffs: Int32Array.from(cutoffs), arrivals: Int32Array.from(arrivals) };
}
