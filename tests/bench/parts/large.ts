/**
 * Large builds of one make: assemblies of printed, cut, coated and sewn parts in four sets, with orders, a gate that is
 * proved first, and people of five kinds of hours. The same size gives the same build.
 */
import type { Build, Gate, Machine, Part, Person, Step, Supplier } from '../../../server/model/index.ts';
import { seeded } from '../../support/fuzz-requests.ts';

export interface Size {
  /** Lots, about. */
  readonly lots: number;
  readonly steps: number;
  readonly people: number;
  readonly machines: number;
}

export const SIZES: readonly Size[] = [
  { lots: 300, steps: 20, people: 2, machines: 1 },
  { lots: 1_000, steps: 60, people: 4, machines: 4 },
  { lots: 3_000, steps: 150, people: 8, machines: 8 },
  { lots: 10_000, steps: 400, people: 14, machines: 14 },
];

const SETS = 4;
const ROUTE = 4;
const DAY_MS = 86_400_000;

/** A build of about this size that can begin at `nowMs`, with an event that these hands can about reach. */
export function largeBuild({ lots, steps, people, machines }: Size, nowMs: number): Build {
  const draw = seeded(steps);
  const routes = Math.max(1, Math.round(steps / ROUTE) - 1);
  const unitsOf = (): number => 4 * Math.round(6 + draw() * 20);
  const made = Array.from({ length: routes }, (_, i) => ({ id: `part-${i}`, units: unitsOf() }));
  const lotsOfStep = lots / (routes * ROUTE + 3 * SETS);
  const sizeOf = (units: number): number => Math.max(1, Math.round((units / lotsOfStep) * (0.8 + draw() * 0.4)));
  const machineOf = (i: number): string => `machine-${i % machines}`;
  const days = (lots * 0.09) / people + 18;
  const at = (day: number): string => `${new Date(nowMs + day * DAY_MS).toISOString().slice(0, 10)}T18:00`;
  return {
    id: 'large',
    name: 'Large',
    zone: 'Europe/Lisbon',
    event: at(days),
    loadIn: at(days - 4),
    readyBy: at(days - 6),
    sets: { count: SETS, name: 'bay' },
    suppliers: SUPPLIERS,
    people: Array.from({ length: people }, (_, i): Person => personOf(i)),
    machines: Array.from({ length: machines }, (_, i): Machine => machineNumber(i)),
    parts: made.flatMap(({ id, units }, i): Part[] => [
      { id, name: `part ${i}`, source: 'make', count: units, yield: i % 3 === 0 ? 0.96 : 1 },
      ...(i % 3 === 1
        ? [
            {
              id: `${id}-raw`,
              name: `stock for part ${i}`,
              source: 'buy' as const,
              supplier: 'mill',
              usedIn: [{ part: id, count: 2 }],
            },
          ]
        : []),
    ]),
    steps: [
      ...made.flatMap(({ id, units }, i) => routeOf(id, i, () => sizeOf(units), machineOf(i))),
      ...inSets(made.slice(-Math.min(6, made.length)).map(({ id }) => `${id}-fit`)),
    ],
    gates: [PROOF],
  };
}

const SUPPLIERS: Supplier[] = [{ id: 'mill', name: 'mill', lead: { low: 3, likely: 4, high: 8 }, cutOff: '14:00' }];

const HOURS = [
  'mon-fri 08:00-12:00 13:00-17:00',
  'tue-sat 12:00-16:00 17:00-20:00',
  'mon-thu 09:00-13:00',
  'mon-fri 18:00-22:00; sat 09:00-13:00 14:00-18:00',
  'sat-sun 10:00-14:00 15:00-19:00; wed 18:00-21:00',
] as const;

function personOf(i: number): Person {
  const hours = HOURS[i % HOURS.length]!;
  return { id: `person-${i}`, name: `Person ${i}`, hours, ...(i % 4 === 3 ? { can: ['sewing', 'press'] } : {}) };
}

function machineNumber(i: number): Machine {
  return { id: `machine-${i}`, name: `machine ${i}`, unattended: i % 2 === 0, overnight: i % 2 === 0 };
}

/** Four kinds of routes, each of four steps that follow each other. */
function routeOf(part: string, i: number, lotSize: () => number, machine: string): Step[] {
  const step = (name: string, rest: Partial<Step>): Step => ({
    id: `${part}-${name}`,
    name,
    part,
    lotSize: lotSize(),
    ...rest,
  });
  const first: Partial<Step>[] = [
    {
      phases: [
        { kind: 'hands', minutes: 8 },
        { kind: 'run', machine, minutes: 170 },
        { kind: 'hands', minutes: 5 },
      ],
    },
    { phases: [{ kind: 'run', machine, minutes: 70, attended: true }] },
    { phases: [{ kind: 'hands', perUnit: { low: 2, likely: 3, high: 6 } }] },
    { phases: [{ kind: 'hands', perUnit: 4, oneGo: true }], skill: 'sewing' },
  ];
  return [
    step('make', first[i % first.length]!),
    step('file', { phases: [{ kind: 'hands', perUnit: 2 }], stations: 2 }),
    step('coat', {
      phases: [
        { kind: 'hands', minutes: 15 },
        { kind: 'wait', minutes: 180 },
        { kind: 'hands', perUnit: 0.5 },
      ],
    }),
    step('fit', { phases: [{ kind: 'hands', perUnit: { low: 2, likely: 2.5, high: 4 } }] }),
  ];
}

function inSets(after: string[]): Step[] {
  const one = (id: string, phases: Step['phases'], rest: Partial<Step>): Step => ({
    id,
    name: id,
    perSet: true,
    count: 1,
    ...(phases ? { phases } : {}),
    ...rest,
  });
  return [
    one('mount', [{ kind: 'hands', minutes: 150, people: 2 }], { after }),
    one('align', [{ kind: 'hands', minutes: 90 }], { after: ['mount'] }),
    one('wire', [{ kind: 'hands', minutes: 120 }], { after: ['align'] }),
  ];
}

const PROOF: Gate = {
  id: 'proof',
  name: 'proof',
  perSet: true,
  after: ['align'],
  before: ['wire'],
  minutes: 60,
  failChance: 0.15,
  proveFirst: true,
};
