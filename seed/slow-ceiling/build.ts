/** The Slow Ceiling as a build: its hours and its hands; design and work are in the files beside. */
import type { Build } from '../../server/model/index.ts';
import { type Days, dateOf, eveningFrom } from '../days.ts';
import { LIMITS, PARAMETERS, PARTS } from './design.ts';
import { BOXES, POINTS, STRIKE, WAYS } from './show.ts';
import { DECISIONS, GATES, STEPS } from './work.ts';

/** Working evenings since the first entry of the log. */
const EVENINGS_BUILT = 8;
/** Days for which it hangs. */
const DAYS_UP = 126;

/** The build under an id, on its days. */
export function ceilingBuild(id: string, days: Days): Build {
  return {
    id,
    name: 'Slow Ceiling',
    zone: 'UTC',
    start: `${dateOf(eveningFrom(days.today, -EVENINGS_BUILT))}T18:00`,
    readyBy: `${dateOf(days.ready)}T22:00`,
    loadIn: `${dateOf(days.loadIn)}T09:00`,
    event: `${dateOf(days.event)}T19:00`,
    strikeFrom: `${dateOf(days.event + DAYS_UP)}T09:00`,
    forPublic: true,
    sets: { count: 'rails', name: 'rail' },
    confidence: 0.9,
    currency: 'EUR',
    hourWorth: 24,
    note: 'The town library opens its new reading room. Above the long tables five rails of ash slats rise and sink in a slow wave. The strike is in spring, when the lamps are changed.',
    parameters: PARAMETERS,
    limits: LIMITS,
    suppliers: SUPPLIERS,
    people: people(days),
    machines: [
      {
        id: 'printer',
        name: 'Printer',
        hours: 'always',
        unattended: true,
        overnight: true,
        price: 380,
        note: 'at home, in the next room',
      },
      {
        id: 'rack',
        name: 'Drying rack',
        count: 2,
        hours: 'always',
        unattended: true,
        overnight: true,
        price: 60,
        note: 'each holds forty slats',
      },
      {
        id: 'platform',
        name: 'Lifting platform',
        hours: 'daily 08:00-20:00',
        note: 'hired from the load-in on',
      },
    ],
    parts: PARTS,
    steps: STEPS,
    gates: GATES,
    decisions: DECISIONS,
    boxes: BOXES,
    passages: WAYS,
    points: POINTS,
    strike: STRIKE,
  };
}

const SUPPLIERS: NonNullable<Build['suppliers']> = [
  {
    id: 'metal-shop',
    name: 'Metal shop',
    workingDays: 'mon-fri',
    cutOff: '15:00',
    deliveryTime: '16:00',
    lead: { low: 4, likely: 5, high: 8 },
    note: 'welds and coats; brings it in the afternoon',
  },
  {
    id: 'turning-shop',
    name: 'Turning shop',
    workingDays: 'mon-fri',
    cutOff: '15:00',
    lead: { low: 2, likely: 3, high: 4 },
  },
  {
    id: 'timber-yard',
    name: 'Timber yard',
    workingDays: 'mon-fri',
    cutOff: '12:00',
    lead: { low: 1, likely: 1, high: 3 },
  },
  {
    id: 'rope-works',
    name: 'Rope works',
    workingDays: 'mon-fri',
    cutOff: '14:00',
    lead: { low: 2, likely: 2, high: 4 },
    express: { lead: 1, extraCost: 22 },
  },
  {
    id: 'drive-maker',
    name: 'Drive maker',
    workingDays: 'mon-fri',
    cutOff: '12:00',
    lead: { low: 4, likely: 5, high: 7 },
    express: { lead: 3, extraCost: 65 },
  },
  {
    id: 'fire-lab',
    name: 'Fire laboratory',
    workingDays: 'mon-fri',
    cutOff: '11:00',
    lead: { low: 3, likely: 4, high: 6 },
    note: 'burns four oiled samples and writes the certificate',
  },
];

function people({ loadIn, event }: Days): NonNullable<Build['people']> {
  const dates = { loadIn: dateOf(loadIn), event: dateOf(event) };
  const reserve = [1, 2].map((n) => ({ date: dateOf(event + n), hours: '09:00-17:00', note: 'in reserve' }));
  return [
    {
      id: 'sefa',
      name: 'Sefa',
      hours: 'mon-fri 18:00-22:00; sat 14:00-22:00',
      exceptions: [
        { date: dates.loadIn, hours: '09:00-13:00 14:00-18:00', note: 'load-in' },
        { date: dates.event, hours: '09:00-12:00 12:30-18:00', note: 'opening' },
        ...reserve,
      ],
    },
    {
      id: 'bram',
      name: 'Bram',
      hours: 'tue thu 18:00-21:30',
      exceptions: [
        { date: dates.loadIn, hours: '09:00-13:00 14:00-18:00', note: 'load-in' },
        { date: dates.event, hours: '09:00-12:00 14:00-17:00', note: 'opening' },
        ...reserve,
      ],
      can: [
        'drill-slats',
        'sand-slats',
        'oil-once',
        'oil-twice',
        'knot-cords',
        'fill-weights',
        'hang-slats',
        'dry-assembly',
        'pack-rails',
        'hang-rails',
        'points-signed',
        'rehearse',
      ],
    },
    {
      id: 'lune',
      name: 'Lune',
      hours: 'sat 14:00-20:00',
      exceptions: [{ date: dates.loadIn, hours: '09:00-13:00', note: 'load-in' }],
      can: ['sand-slats', 'knot-cords', 'fill-weights', 'hang-slats', 'dry-assembly', 'pack-rails', 'unload'],
    },
    {
      id: 'electrician',
      name: 'Electrician',
      hours: 'never',
      exceptions: [{ date: dates.event, hours: '12:00-16:00', note: 'comes once' }, ...reserve],
      can: ['connect-mains', 'mains-safe'],
      note: 'licensed; comes once, at noon on the day of the opening',
    },
  ];
}
