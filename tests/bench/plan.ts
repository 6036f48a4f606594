/**
 * What a plan costs for each lot, from lots and links to the critical path, at three sizes of one shape: a print, two
 * coats, a fitting for every lot of units, over people's and machines' hours, with a supplier's delivery before the
 * fitting.
 */
import { Graph } from '@dagrejs/graphlib';
import { demoFile } from '../../seed/demo.ts';
import { quantitiesOf } from '../../server/engine/01-quantities/quantities.ts';
import { plannedStepsOf } from '../../server/engine/02-steps/planned-steps.ts';
import { stepFeedsOf } from '../../server/engine/04-lots/step-feeds.ts';
import { workOf as workOfBuild } from '../../server/engine/04-lots/work.ts';
import { networkOf } from '../../server/engine/05-network/network.ts';
import { criticalPath } from '../../server/engine/06-critical-path/critical-path.ts';
import { firstPlanIn } from '../../server/engine/10-answers/baseline.ts';
import { dayOf } from '../../server/engine/calendar/clock.ts';
import { openTimeOfHours, readHours } from '../../server/engine/calendar/hours.ts';
import { arrivalTable, supplierDays } from '../../server/engine/calendar/supplier-days.ts';
import { surroundingsOf } from '../../server/engine/calendar/surroundings.ts';
import { tallyLog } from '../../server/engine/log/log-tally.ts';
import { planBuild } from '../../server/engine/plan.ts';
import type { Calendar, Link, Lot, Phase, Work } from '../../server/engine/types.ts';
import type { Build } from '../../server/model/index.ts';

const ZONE = 'Europe/Berlin';
const SIZES = [300, 3_000, 30_000];
const FROM = dayOf(2026, 9, 1) * 1440;
const NOW = FROM + 60 * 1440;
const TO = FROM + 1500 * 1440;

export default function plan(): void {
  console.log('network and passes:');
  linearity(
    SIZES.map((lots) => {
      const work = workOf(lots);
      return { lots, run: () => criticalPath(work, networkOf(work.lots.length, work.links)) };
    }),
  );
  console.log('a build from quantities to critical path, calendars apart:');
  linearity(SIZES.map(wholeBuild));
  graphOfObjects(3_000);
  demoAnew();
}

interface Sized {
  readonly lots: number;
  readonly run: () => unknown;
}

const ROUNDS = 15;
const LOTS_A_TURN = 30_000;

/**
 * Nanoseconds a lot at each size, and the ratio between the ends. The sizes take turns within a round, so that a
 * machine that is faster now and slower then is so for all of them; medians over the rounds.
 */
function linearity(sized: readonly Sized[]): void {
  const turn = ({ lots, run }: Sized) => nanosecondsOnce(run, Math.max(1, Math.round(LOTS_A_TURN / lots))) / lots;
  for (const each of sized) for (let i = 0; i < 3; i++) turn(each);
  const rounds = Array.from({ length: ROUNDS }, () => sized.map(turn));
  sized.forEach(({ lots }, i) => {
    console.log(`${String(lots).padEnd(8)} ${Math.round(median(rounds.map((round) => round[i]!)))} ns a lot`);
  });
  const ratio = median(rounds.map((round) => round.at(-1)! / round[0]!));
  console.log(`ratio between the ends: ${ratio.toFixed(2)} (aim: under 1.5)`);
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

function nanosecondsOnce(run: () => unknown, batch: number): number {
  const before = process.cpuUsage();
  for (let i = 0; i < batch; i++) run();
  const { user, system } = process.cpuUsage(before);
  return (1000 * (user + system)) / batch;
}

/** From the design to the critical path of a whole build: parameters, parts, steps, lots, links, passes. */
function wholeBuild(lots: number): Sized {
  const build = buildOf(lots);
  const surroundings = surroundingsOf(build, NOW);
  const run = () => {
    const quantities = quantitiesOf(build);
    const { steps } = plannedStepsOf(build, surroundings, quantities, tallyLog([]));
    const { feeds, holds } = stepFeedsOf(build, steps, quantities);
    const work = workOfBuild(surroundings, steps, feeds, holds);
    return criticalPath(work, networkOf(work.lots.length, work.links));
  };
  return { lots: run().earlyStart.length, run };
}

function buildOf(lots: number): Build {
  const each = lots / 3;
  return {
    id: 'bench',
    name: 'bench',
    zone: ZONE,
    event: '2032-03-01T19:00',
    parameters: [{ name: 'n', value: each * 4 }],
    people: [{ id: 'ria', name: 'Ria', hours: 'mon-fri 18:00-22:00; sat 09:00-17:00' }],
    machines: [{ id: 'printer', name: 'Printer', count: 2 }],
    parts: [{ id: 'hook', name: 'hook', source: 'make', count: 'n' }],
    steps: [
      {
        id: 'print',
        name: 'print',
        part: 'hook',
        lotSize: 4,
        phases: [
          { kind: 'hands', minutes: 5 },
          { kind: 'run', machine: 'printer', minutes: 90 },
          { kind: 'hands', minutes: 3 },
        ],
      },
      {
        id: 'coat',
        name: 'coat',
        part: 'hook',
        lotSize: 4,
        phases: [
          { kind: 'hands', perUnit: 2 },
          { kind: 'wait', minutes: '4 h' },
        ],
      },
      { id: 'fit', name: 'fit', part: 'hook', lotSize: 4, phases: [{ kind: 'hands', perUnit: 3 }] },
    ],
  };
}

/**
 * The first answer after a tap on the demo, its first plan kept: one schedule forwards, one backwards, the bound and
 * every answer.
 */
function demoAnew(): void {
  const { build, log = [] } = demoFile(NOW);
  const levelling = { seed: 1, schedules: 1 };
  const first = firstPlanIn(planBuild(build, log, NOW, { levelling }), 1)!;
  const times = Array.from({ length: 150 }, () => {
    const before = performance.now();
    planBuild(build, log, NOW, { levelling, first });
    return performance.now() - before;
  }).slice(50);
  const least = Math.min(...times).toFixed(1);
  console.log(`the demo planned anew: median ${median(times).toFixed(1)} ms, least ${least} ms (aim: under 20)`);
}

/** The same network in a graph of objects keyed by strings, for comparison. */
function graphOfObjects(lots: number): void {
  const { links } = workOf(lots);
  const build = () => {
    const graph = new Graph({ multigraph: true });
    for (let i = 0; i < lots; i++) graph.setNode(String(i));
    links.forEach((link, i) => {
      graph.setEdge(String(link.from), String(link.to), undefined, String(i));
    });
    return graph;
  };
  console.log(`a graph library's own graph at ${lots} lots: ${Math.round(nanoseconds(build, 3) / lots)} ns a lot`);
}

/**
 * Processor time of one run: the least over ten batches, so that it says what the code costs and not what else is
 * running.
 */
function nanoseconds(run: () => unknown, batch: number): number {
  for (let i = 0; i < 3 * batch; i++) run();
  const times = Array.from({ length: 10 }, () => {
    const before = process.cpuUsage();
    for (let i = 0; i < batch; i++) run();
    const { user, system } = process.cpuUsage(before);
    return (1000 * (user + system)) / batch;
  });
  return Math.min(...times);
}

function workOf(count: number): Work {
  const evenings = calendar('mon-fri 18:00-22:00; sat 09:00-13:00 14:00-18:00');
  const days = calendar('mon-fri 08:00-12:00 13:00-17:00');
  const machine = calendar('always');
  const supplier = supplierDays({ cutOffMinute: 14 * 60 });
  if (!supplier.ok) throw new Error(supplier.problem.message);
  const arrivals = arrivalTable(supplier.value, 4, ZONE, FROM, TO);
  const shapes: Phase[][] = [
    [hands(8, evenings), run(250, machine), hands(4, evenings)],
    [hands(25, days), { kind: 'wait', minutes: 240 }],
    [hands(15, evenings), { kind: 'lead', workingDays: 4, arrivals }],
    [hands(40, days)],
  ];
  const lots = Array.from({ length: count }, (_, i) => lotOf(i, shapes[i % shapes.length]!));
  const links: Link[] = [];
  for (let i = 0; i < count; i += shapes.length) {
    // Within a set of units: print and delivery feed the fitting, the coat follows the print; sets follow each other by
    // steps.
    add(links, count, i, i + 1, 'finish-start', 0, null);
    add(links, count, i + 1, i + 3, 'finish-start', 30, null);
    add(links, count, i + 2, i + 3, 'finish-start', 0, null);
    // Ten times in a build a step waits for its own start a tenth of the lots before: paths keep their length at every
    // size.
    for (let k = 0; k < shapes.length; k++) {
      if (i >= count / 10)
        add(links, count, i + k - Math.floor(count / 10 / 4) * 4, i + k, 'start-start', 60, k === 3 ? days : null);
    }
  }
  const end = NOW + 200 * 1440;
  const people = [evenings, days].map((open, i) => ({
    id: `p${i}`,
    name: `p${i}`,
    kind: 'person' as const,
    capacity: 1,
    open,
  }));
  return { now: NOW, readyBy: end, loadIn: null, event: end, resources: people, lots, links };
}

function add(
  links: Link[],
  count: number,
  from: number,
  to: number,
  type: Link['type'],
  lag: number,
  open: Calendar | null,
): void {
  if (from >= 0 && to < count) links.push({ from, to, type, lagMinutes: lag, lagOpen: open, reason: 'feed' });
}

function lotOf(i: number, phases: Phase[]): Lot {
  return {
    id: `lot-${i}`,
    step: i % 4,
    set: null,
    number: i + 1,
    firstUnit: i + 1,
    lastUnit: i + 1,
    phases,
    release: NOW,
    deadline: NOW + 200 * 1440,
    begunAt: null,
    pinnedStart: null,
    pinnedPeople: null,
    station: null,
    onSite: false,
  };
}

function hands(minutes: number, open: Calendar): Phase {
  return { kind: 'hands', minutes, people: 1, eligible: [0], oneGo: false, open };
}

function run(minutes: number, open: Calendar): Phase {
  return { kind: 'run', minutes, machine: 2, attended: false, people: 0, eligible: [], open };
}

function calendar(text: string): Calendar {
  const hours = readHours(text);
  const open = hours.ok ? openTimeOfHours(hours.value, ZONE, FROM, TO) : hours;
  if (!open.ok) throw new Error(open.problem.message);
  return open.value;
}
