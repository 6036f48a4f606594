/** Invented builds so small that a general solver finds their optimum: minutes stand for hours, a day has twenty. */
import { calendarFrom } from '../../server/engine/calendar/working-time.ts';
import { Random } from '../../server/engine/numbers/random.ts';
import type { Calendar, Link, Lot, Phase, Resource, Work } from '../../server/engine/types.ts';
import { LINK_TYPES } from '../../server/engine/types.ts';
import { withoutStandoffs } from './random-work.ts';

export const DAY = 20;
const DAYS = 12;

/**
 * Every kind of phase, link, pin and resource, drawn from a seed: two people with hours, machines, a station, a pool
 * and a supplier.
 */
export function tinyWork(seed: number, lots: number): Work {
  const random = new Random(seed);
  const resources = resourcesOf(random);
  const drawn: Lot[] = [];
  for (let l = 0; l < lots; l++) {
    // One machine at most is loaded already: it may be the only one.
    const mayBeLoaded = drawn.every(({ begunAt }) => begunAt === null);
    drawn.push(lotOf(random, l, resources[0]!.open, mayBeLoaded));
  }
  return {
    now: 0,
    readyBy: DAY + 10,
    loadIn: null,
    event: 4 * DAY,
    resources,
    lots: drawn,
    links: withoutStandoffs(drawn, linksOf(random, drawn, resources[0]!.open)),
  };
}

function resourcesOf(random: Random): Resource[] {
  const resource = (id: string, kind: Resource['kind'], capacity: number, hours: [number, number][]): Resource => ({
    id,
    name: id,
    kind,
    capacity,
    open: daily(hours),
  });
  const shift = random.below(4);
  return [
    resource('ann', 'person', 1, [
      [3, 9],
      [11, 16],
    ]),
    resource('bob', 'person', 1, [[6 + shift, 13 + shift]]),
    resource('printer', 'machine', 1 + random.below(2), [[0, DAY]]),
    resource('router', 'machine', 1, [[4, 15]]),
    resource('rack', 'station', 1, [[0, DAY]]),
    resource('air', 'pool', 2, [[2, 18]]),
  ];
}

function daily(hours: readonly [number, number][]): Calendar {
  return calendarFrom(
    Array.from({ length: DAYS }, (_, d) =>
      hours.map(([from, to]): [number, number] => [d * DAY + from, d * DAY + to]),
    ).flat(),
  );
}

function lotOf(random: Random, l: number, open: Calendar, mayBeLoaded: boolean): Lot {
  const special = random.below(12);
  const phases = chainOf(random, open);
  const loaded = mayBeLoaded && special === 0 && phases[1]?.kind === 'run' && phases.length === 3;
  return {
    id: `lot ${l}`,
    step: random.below(3),
    set: null,
    number: 1,
    firstUnit: 1,
    lastUnit: 1,
    phases: loaded ? phases.slice(1) : phases,
    release: special === 1 ? random.below(DAY) : 0,
    deadline: DAY + 10,
    begunAt: loaded ? -random.below(4) : null,
    pinnedStart: special === 2 ? random.below(DAY) : null,
    pinnedPeople: special === 3 ? [random.below(2)] : null,
    station: special > 3 && special < 6 ? 4 : null,
    onSite: false,
  };
}

function chainOf(random: Random, open: Calendar): Phase[] {
  const some = (least: number, most: number) => least + random.below(most - least + 1);
  const hands = (minutes: number, people = 1, oneGo = false): Phase => ({
    kind: 'hands',
    minutes,
    people,
    eligible: people > 1 || random.below(2) === 0 ? [0, 1] : [random.below(2)],
    oneGo,
    open,
  });
  const run = (minutes: number, machine: number, people: number): Phase => ({
    kind: 'run',
    minutes,
    machine,
    attended: people > 0,
    people,
    eligible: people > 0 ? [0, 1] : [],
    open,
  });
  const lead = (): Phase => ({
    kind: 'lead',
    workingDays: 1,
    arrivals: {
      cutoffs: Int32Array.from({ length: DAYS }, (_, d) => d * DAY + 12),
      arrivals: Int32Array.from({ length: DAYS }, (_, d) => (d + 1) * DAY + 5),
    },
  });
  const wait = (): Phase => ({ kind: 'wait', minutes: some(3, 9) });
  const chains: (() => Phase[])[] = [
    () => [hands(some(1, 8))],
    () => [hands(some(1, 8))],
    () => [hands(some(1, 4), 1, true)],
    () => [hands(some(1, 3), 2)],
    () => [hands(1), run(some(4, 12), 2, 0), hands(1)],
    () => [hands(1), run(some(4, 12), 2, 0), hands(1)],
    () => [hands(some(1, 2)), run(some(2, 4), 3, 0)],
    () => [run(some(2, 4), 3, 1)],
    () => [hands(1), run(some(2, 3), 3, 1)],
    () => [hands(2), wait()],
    () => [hands(2), wait(), hands(some(1, 3))],
    () => [hands(1), lead()],
    () => [hands(some(1, 4)), hands(some(1, 4), 1, random.below(2) === 0)],
    () => [{ kind: 'demand', minutes: some(2, 6), demands: [{ resource: 5, amount: some(1, 2) }] }],
    () => [],
  ];
  return chains[random.below(chains.length)]!();
}

function linksOf(random: Random, lots: readonly Lot[], open: Calendar): Link[] {
  const found: Link[] = [];
  for (let to = 1; to < lots.length; to++) {
    if (random.below(2) === 0) continue;
    const plain = random.below(3) > 0;
    found.push({
      from: random.below(to),
      to,
      type: plain ? 'finish-start' : LINK_TYPES[random.below(4)]!,
      lagMinutes: plain ? 0 : random.below(9) - 3,
      lagOpen: plain || random.below(2) === 0 ? null : open,
      reason: 'feed',
    });
  }
  return found;
}
