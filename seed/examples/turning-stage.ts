/**
 * An example of another trade, nothing begun: the revolving floor of a theatre, twelve segments on castors that turn
 * about a pivot. A crew of three in daytime, a painting bay, a get-in on the last day but one.
 */
import type { Build, BuildFile } from '../../server/model/index.ts';
import { dateOf } from '../days.ts';

type List<Name extends keyof Build> = NonNullable<Build[Name]>;

const DAYS_TO_EVENT = 15;

/** The example as a build file, its first night fifteen days after a day (as a number since 1970-01-01). */
export function turningStage(id: string, today: number): BuildFile {
  const firstNight = dateOf(today + DAYS_TO_EVENT);
  const getIn = dateOf(today + DAYS_TO_EVENT - 2);
  const technical = dateOf(today + DAYS_TO_EVENT - 1);
  const onSite = [
    { date: getIn, hours: '09:00-13:00 14:00-19:00', note: 'get-in' },
    { date: technical, hours: '10:00-14:00 15:00-19:00', note: 'technical rehearsal' },
    { date: firstNight, hours: '10:00-14:00', note: 'first night' },
  ];
  return {
    format: 'daywright-build',
    version: 1,
    build: {
      id,
      name: 'Turning Stage',
      zone: 'UTC',
      start: `${dateOf(today)}T08:00`,
      readyBy: `${dateOf(today + DAYS_TO_EVENT - 3)}T18:00`,
      loadIn: `${getIn}T09:00`,
      event: `${firstNight}T19:30`,
      forPublic: true,
      currency: 'EUR',
      note: 'A floor of six metres that turns during the second act, for the municipal theatre.',
      parameters,
      limits,
      suppliers,
      people: [
        { id: 'hanne', name: 'Hanne', hours: 'mon-fri 08:00-12:00 13:00-16:30', exceptions: onSite },
        { id: 'yusra', name: 'Yusra', hours: 'mon-fri 08:00-12:00 13:00-16:30', exceptions: onSite },
        {
          id: 'cato',
          name: 'Cato',
          hours: 'mon wed fri 08:00-12:00 13:00-16:30',
          exceptions: onSite,
          can: ['frame', 'deck', 'paint-once', 'paint-twice', 'load', 'lay', 'rehearse'],
        },
      ],
      machines: [{ id: 'welder', name: 'Welding bench', hours: 'mon-fri 08:00-16:30', unattended: false }],
      parts,
      steps,
      gates,
      decisions: [
        {
          id: 'second-coat',
          question: 'Matt or eggshell for the second coat?',
          waits: ['paint-twice'],
          answers: ['matt', 'eggshell'],
        },
      ],
    },
  };
}

const parameters: List<'parameters'> = [
  { name: 'segments', value: 12, unit: 'segments', origin: 'decided' },
  { name: 'castors_per_segment', value: 4, unit: 'castors', origin: 'decided' },
  {
    name: 'segment_kg',
    range: { low: 34, likely: 38, high: 44 },
    unit: 'kg',
    origin: 'guessed',
    note: 'weigh the first one',
  },
  { name: 'area', formula: '3.1416 * 3 ^ 2', unit: 'm²' },
  { name: 'paint_litres', formula: 'area * 2 / 7', unit: 'L', origin: 'handbook' },
];

const limits: List<'limits'> = [
  {
    id: 'castor-load',
    name: 'Load on a castor with eight people on the floor',
    of: '(segments * segment_kg + 8 * 85) / (segments * castors_per_segment) * 2',
    most: 60,
    unit: 'kg',
    note: 'twice the mean, for a floor is never even',
  },
];

const suppliers: List<'suppliers'> = [
  {
    id: 'panel-cutter',
    name: 'Panel cutter',
    workingDays: 'mon-fri',
    cutOff: '11:00',
    lead: { low: 2, likely: 3, high: 5 },
  },
  {
    id: 'castor-trade',
    name: 'Castor trade',
    workingDays: 'mon-fri',
    cutOff: '15:00',
    lead: { low: 2, likely: 3, high: 5 },
    express: { lead: 1, extraCost: 38 },
  },
];

const parts: List<'parts'> = [
  { id: 'segment', name: 'segment', source: 'make', count: 'segments' },
  {
    id: 'board',
    name: 'board',
    source: 'send-out',
    usedIn: [{ part: 'segment', count: 1 }],
    spares: 1,
    unitCost: 58,
    supplier: 'panel-cutter',
    note: 'plywood of 18 mm, cut to the segment',
  },
  {
    id: 'castor',
    name: 'castor',
    source: 'buy',
    usedIn: [{ part: 'segment', count: 'castors_per_segment' }],
    spares: 2,
    packSize: 10,
    unitCost: 11,
    supplier: 'castor-trade',
  },
];

const steps: List<'steps'> = [
  {
    id: 'cut-boards',
    name: 'have boards cut',
    part: 'board',
    phases: [
      { kind: 'hands', minutes: 45 },
      { kind: 'lead', supplier: 'panel-cutter' },
    ],
    hazards: [],
    origin: 'supplier',
  },
  {
    id: 'frame',
    name: 'weld frames',
    part: 'segment',
    lotSize: 2,
    phases: [
      { kind: 'run', machine: 'welder', perUnit: { low: 60, likely: 75, high: 120 }, attended: true, people: 2 },
    ],
    hazards: ['hot-work', 'fumes'],
    origin: 'guessed',
  },
  {
    id: 'deck',
    name: 'fit castors and board',
    part: 'segment',
    lotSize: 2,
    uses: ['board', 'castor'],
    phases: [{ kind: 'hands', perUnit: 40, people: 2 }],
    hazards: ['lifting', 'blades'],
    origin: 'trial',
  },
  {
    id: 'paint-once',
    name: 'paint, first coat',
    part: 'segment',
    lotSize: 6,
    stations: 1,
    phases: [
      { kind: 'hands', perUnit: 12 },
      { kind: 'wait', minutes: '6 h' },
    ],
    hazards: ['public-decor'],
    origin: 'handbook',
    note: 'the painting bay takes six; water-based, with its certificate',
  },
  {
    id: 'paint-twice',
    name: 'paint, second coat',
    part: 'segment',
    lotSize: 6,
    stations: 1,
    mayDrop: true,
    phases: [
      { kind: 'hands', perUnit: 10 },
      { kind: 'wait', minutes: '6 h' },
    ],
    hazards: ['public-decor'],
    origin: 'handbook',
  },
  {
    id: 'dry-fit',
    name: 'dry assembly with the pivot',
    after: ['paint-twice'],
    phases: [{ kind: 'hands', minutes: '3 h', people: 2 }],
    hazards: ['lifting', 'moving-parts'],
    origin: 'guessed',
  },
  {
    id: 'load',
    name: 'pack the van',
    after: ['turns'],
    phases: [{ kind: 'hands', minutes: '1 h 30 min', people: 2 }],
    hazards: ['lifting'],
    origin: 'guessed',
  },
  {
    id: 'lay',
    name: 'drive there and lay the floor',
    onSite: true,
    after: ['load'],
    phases: [{ kind: 'hands', minutes: '5 h', people: 3 }],
    hazards: ['lifting', 'driving'],
    origin: 'guessed',
  },
  {
    id: 'rehearse',
    name: 'rehearse the turn',
    onSite: true,
    after: ['floor-signed'],
    phases: [{ kind: 'hands', minutes: '2 h', people: 2 }],
    hazards: ['moving-parts'],
    origin: 'guessed',
  },
];

const gates: List<'gates'> = [
  {
    id: 'turns',
    name: 'it turns with one hand',
    after: ['dry-fit'],
    before: ['load'],
    minutes: 30,
    people: 2,
    failChance: 0.2,
    sendsBack: [{ step: 'dry-fit', units: 1 }],
    hazards: ['moving-parts'],
  },
  {
    id: 'floor-signed',
    name: 'the floor is signed off',
    after: ['lay'],
    before: ['rehearse'],
    onSite: true,
    minutes: 30,
    people: 2,
    failChance: 0.05,
    hazards: ['moving-parts'],
    signedBy: 'the technical head of the theatre',
  },
];
