/**
 * An example of another trade, nothing begun: a window of the paper fair in which sixty folded birds beat their wings
 * on four shafts while somebody turns a handle. Two people, a cutting plotter, ten days.
 */
import type { Build, BuildFile } from '../../server/model/index.ts';
import { dateOf } from '../days.ts';

type List<Name extends keyof Build> = NonNullable<Build[Name]>;

const DAYS_TO_EVENT = 10;

/** The example as a build file, its fair ten days after a day (as a number since 1970-01-01). */
export function paperFlock(id: string, today: number): BuildFile {
  const fair = dateOf(today + DAYS_TO_EVENT);
  const dayBefore = dateOf(today + DAYS_TO_EVENT - 1);
  return {
    format: 'daywright-build',
    version: 1,
    build: {
      id,
      name: 'Paper Flock',
      zone: 'UTC',
      start: `${dateOf(today)}T08:00`,
      readyBy: `${dateOf(today + DAYS_TO_EVENT - 2)}T21:00`,
      loadIn: `${dayBefore}T10:00`,
      event: `${fair}T10:00`,
      forPublic: true,
      sets: { count: 'shafts', name: 'shaft' },
      currency: 'EUR',
      note: 'A window at the paper fair: birds on shafts, a handle for whoever passes.',
      parameters,
      limits,
      suppliers,
      people: [
        {
          id: 'odile',
          name: 'Odile',
          hours: 'daily 17:00-21:00',
          exceptions: [{ date: dayBefore, hours: '10:00-18:00', note: 'load-in' }],
        },
        {
          id: 'pim',
          name: 'Pim',
          hours: 'mon wed fri sun 18:00-21:00',
          exceptions: [{ date: dayBefore, hours: '10:00-16:00', note: 'load-in' }],
          can: ['fold', 'stiffen', 'mount', 'pack', 'set-up', 'proof'],
        },
      ],
      machines: [{ id: 'plotter', name: 'Cutting plotter', hours: 'always', unattended: false, price: 240 }],
      parts,
      steps,
      gates,
      decisions: [
        {
          id: 'colour',
          question: 'White birds, or one red among them?',
          waits: ['stiffen'],
          answers: ['all white', 'one red'],
        },
      ],
    },
  };
}

const parameters: List<'parameters'> = [
  { name: 'shafts', value: 4, unit: 'shafts', origin: 'decided' },
  { name: 'birds_per_shaft', value: 15, unit: 'birds', origin: 'decided' },
  { name: 'birds', formula: 'shafts * birds_per_shaft', unit: 'birds' },
  { name: 'throw', value: 14, unit: 'mm', origin: 'trial', note: 'of the cranks; more and the wings touch' },
];

const limits: List<'limits'> = [
  { id: 'wings', name: 'Air between two wings', of: '75 - 2 * throw - 42', least: 3, unit: 'mm' },
];

const suppliers: List<'suppliers'> = [
  {
    id: 'paper-mill',
    name: 'Paper mill',
    workingDays: 'mon-fri',
    cutOff: '12:00',
    lead: { low: 1, likely: 2, high: 4 },
    express: { lead: 1, extraCost: 14 },
  },
];

const parts: List<'parts'> = [
  { id: 'shaft', name: 'shaft', source: 'make', count: 'shafts', unitCost: 3 },
  {
    id: 'bird',
    name: 'bird',
    source: 'make',
    usedIn: [{ part: 'shaft', count: 'birds_per_shaft' }],
    spares: 4,
    yield: 0.92,
  },
  {
    id: 'sheet',
    name: 'sheet of paper',
    source: 'buy',
    usedIn: [{ part: 'bird', count: 0.25 }],
    spares: 2,
    onHand: 8,
    packSize: 10,
    unitCost: 1.1,
    supplier: 'paper-mill',
    note: 'four birds from a sheet',
  },
];

const steps: List<'steps'> = [
  {
    id: 'score',
    name: 'cut and score',
    part: 'bird',
    lotSize: 16,
    phases: [
      { kind: 'hands', minutes: 5 },
      { kind: 'run', machine: 'plotter', minutes: 26, attended: true },
    ],
    hazards: ['blades'],
    origin: 'trial',
  },
  {
    id: 'fold',
    name: 'fold birds',
    part: 'bird',
    lotSize: 12,
    phases: [{ kind: 'hands', perUnit: { low: 5, likely: 7, high: 12 } }],
    learning: 0.9,
    hazards: [],
    origin: 'guessed',
  },
  {
    id: 'stiffen',
    name: 'stiffen with varnish',
    part: 'bird',
    lotSize: 24,
    phases: [
      { kind: 'hands', perUnit: 1 },
      { kind: 'wait', minutes: '3 h' },
    ],
    hazards: ['fumes'],
    origin: 'handbook',
    note: 'thinned with water; fifteen birds hang on each line',
  },
  {
    id: 'bend',
    name: 'bend cranks into a shaft',
    part: 'shaft',
    phases: [{ kind: 'hands', perUnit: { low: 40, likely: 55, high: 90 }, who: ['odile'] }],
    hazards: [],
    origin: 'guessed',
  },
  {
    id: 'mount',
    name: 'mount birds',
    perSet: true,
    count: 'birds_per_shaft',
    uses: ['bird'],
    after: ['bend'],
    lotSize: 15,
    phases: [{ kind: 'hands', perUnit: { units: 5, minutes: 18 } }],
    hazards: [],
  },
  {
    id: 'pack',
    name: 'pack',
    after: ['flies'],
    phases: [{ kind: 'hands', minutes: 60 }],
    hazards: [],
    origin: 'guessed',
  },
  {
    id: 'set-up',
    name: 'drive there and set up',
    onSite: true,
    after: ['pack'],
    phases: [{ kind: 'hands', minutes: '2 h 30 min', people: 2 }],
    hazards: ['driving'],
    origin: 'guessed',
  },
  {
    id: 'proof',
    name: 'turn it for an hour',
    onSite: true,
    after: ['set-up'],
    phases: [{ kind: 'hands', minutes: 60, people: 2 }],
    hazards: ['moving-parts'],
    origin: 'guessed',
  },
];

const gates: List<'gates'> = [
  {
    id: 'flies',
    name: 'the shaft turns without a catch',
    perSet: true,
    after: ['mount'],
    before: ['pack'],
    minutes: 15,
    failChance: 0.25,
    sendsBack: [{ step: 'mount', units: 4 }],
    proveFirst: true,
    holds: ['mount'],
    hazards: [],
  },
];
