/**
 * The Tide Wall, which tests and benches plan: three panels of 24 wooden herring that swim on cranks, half built, with
 * a log of some days: one evening lost, sanding slower than hoped.
 */
import type { Build, BuildFile, LogEntry, NewLogEntry } from '../../../server/model/index.ts';

const MINUTES_PER_DAY = 1440;
const DAYS_TO_EVENT = 11;
const DAYS_BUILT = 6;
/** Days of one's own before the event: enough for a late start, too few for a careless one. */
const DAYS_IN_HAND = 3;

/**
 * The wall as a build file, shifted so that the event lies eleven days after `now` (whole minutes since the epoch)
 * whatever the date is. Its zone is UTC.
 */
export function tideWall(now: number): BuildFile {
  const today = Math.floor(now / MINUTES_PER_DAY);
  return { format: 'daywright-build', version: 1, build: wallBuild(today), log: wallLog(today, now) };
}

function wallBuild(today: number): Build {
  const eventDay = dateOf(today + DAYS_TO_EVENT);
  const showHours = { date: eventDay, hours: '08:00-20:00', note: 'opening night' };
  return {
    id: 'tide-wall',
    name: 'Tide Wall',
    zone: 'UTC',
    start: `${dateOf(today - DAYS_BUILT)}T18:00`,
    readyBy: `${dateOf(today + DAYS_TO_EVENT - DAYS_IN_HAND)}T20:00`,
    loadIn: `${eventDay}T09:00`,
    event: `${eventDay}T19:00`,
    sets: { count: 'panels', name: 'panel' },
    confidence: 0.9,
    currency: 'EUR',
    note: 'Opening night of the harbour museum: three panels of herring that swim on cranks.',
    parameters: [
      { name: 'panels', value: 3, unit: 'panels', origin: 'measured' },
      { name: 'fish_per_panel', value: 24, unit: 'fish', origin: 'measured' },
      { name: 'fish', formula: 'panels * fish_per_panel', unit: 'fish' },
      {
        name: 'fish_length',
        value: 180,
        unit: 'mm',
        origin: 'trial',
        note: 'drawing of the outline and of the post follow it',
      },
      {
        name: 'bore',
        range: { low: 5.9, likely: 6, high: 6.2 },
        unit: 'mm',
        origin: 'trial',
        note: 'cut a trial strip from each sheet',
      },
      { name: 'paint_litres', formula: 'fish * 0.028 * 3 / 10 / (1 - 0.3)', unit: 'L', origin: 'handbook' },
    ],
    limits: [
      {
        id: 'play',
        name: 'Play of the shaft in its bore',
        of: 'bore - 5.8',
        least: 0.05,
        most: 0.5,
        unit: 'mm',
        note: 'tighter binds, looser rattles',
      },
    ],
    suppliers: [
      {
        id: 'outline-cutter',
        name: 'Outline cutter',
        workingDays: 'mon-fri',
        cutOff: '14:00',
        lead: { low: 2, likely: 3, high: 5 },
      },
      {
        id: 'panel-mill',
        name: 'Panel mill',
        workingDays: 'mon-fri',
        cutOff: '12:00',
        lead: { low: 4, likely: 5, high: 8 },
        express: { lead: 3, extraCost: 90 },
      },
      {
        id: 'hardware',
        name: 'Hardware by post',
        workingDays: 'mon-sat',
        cutOff: '16:00',
        lead: { low: 1, likely: 2, high: 4 },
        express: { lead: 1, extraCost: 18 },
      },
    ],
    people: [
      {
        id: 'runa',
        name: 'Runa',
        hours: 'mon-fri 18:00-22:30; sat-sun 09:00-13:00 14:00-19:00',
        exceptions: [showHours],
      },
      {
        id: 'jo',
        name: 'Jo',
        hours: 'wed 18:00-21:00; sat 10:00-16:00',
        exceptions: [showHours],
        can: [
          'sand-fish',
          'prime',
          'paint-body',
          'paint-eyes',
          'press-bushings',
          'fit-posts',
          'mount-fish',
          'pack-wall',
          'load-in-wall',
          'rehearse',
        ],
      },
    ],
    machines: [{ id: 'printer', name: 'Printer', count: 2, hours: 'always', unattended: true, overnight: true }],
    parts: [
      {
        id: 'panel',
        name: 'panel',
        source: 'send-out',
        count: 'panels',
        supplier: 'panel-mill',
        unitCost: 85,
        revision: 'B',
        dependsOn: ['fish_per_panel', 'bore'],
      },
      {
        id: 'herring',
        name: 'herring',
        source: 'send-out',
        usedIn: [{ part: 'panel', count: 'fish_per_panel' }],
        spares: 3,
        yield: 0.98,
        supplier: 'outline-cutter',
        unitCost: 1.6,
        dependsOn: ['fish_length'],
      },
      {
        id: 'crank',
        name: 'crank',
        source: 'make',
        usedIn: [{ part: 'panel', count: 'fish_per_panel' }],
        spares: 3,
        yield: 0.95,
        unitCost: 0.4,
        dependsOn: ['bore'],
      },
      {
        id: 'bushing',
        name: 'bushing',
        source: 'make',
        usedIn: [{ part: 'panel', count: '2 * fish_per_panel' }],
        spares: 6,
        yield: 0.96,
        unitCost: 0.15,
        dependsOn: ['bore'],
      },
      {
        id: 'post',
        name: 'post',
        source: 'buy',
        usedIn: [{ part: 'panel', count: 'fish_per_panel' }],
        spares: 2,
        packSize: 25,
        unitCost: 0.9,
        supplier: 'hardware',
        dependsOn: ['fish_length'],
      },
      {
        id: 'motor',
        name: 'motor',
        source: 'buy',
        usedIn: [{ part: 'panel', count: 1 }],
        spares: 1,
        unitCost: 34,
        supplier: 'hardware',
      },
      {
        id: 'screw',
        name: 'screw',
        source: 'buy',
        usedIn: [{ part: 'panel', count: '4 * fish_per_panel' }],
        packSize: 200,
        unitCost: 0.03,
        onHand: 400,
        supplier: 'hardware',
      },
    ],
    steps: [
      {
        id: 'cut-herring',
        name: 'cut outlines',
        part: 'herring',
        phases: [
          { kind: 'hands', minutes: 20 },
          { kind: 'lead', supplier: 'outline-cutter' },
        ],
        origin: 'supplier',
      },
      {
        id: 'mill-panels',
        name: 'mill panels',
        part: 'panel',
        phases: [
          { kind: 'hands', minutes: 30 },
          { kind: 'lead', supplier: 'panel-mill' },
        ],
        hazards: ['public-decor'],
        origin: 'supplier',
      },
      {
        id: 'sand-fish',
        name: 'sand herring',
        part: 'herring',
        lotSize: 20,
        phases: [{ kind: 'hands', perUnit: 2.5 }],
        setup: 10,
        setupEach: 'lot',
        hazards: ['dust'],
        origin: 'guessed',
      },
      {
        id: 'prime',
        name: 'prime',
        part: 'herring',
        lotSize: 26,
        phases: [
          { kind: 'hands', minutes: 30 },
          { kind: 'wait', minutes: '4 h' },
        ],
        hazards: ['spray'],
        origin: 'handbook',
        note: 'a rack takes 26',
      },
      {
        id: 'paint-body',
        name: 'paint bodies',
        part: 'herring',
        lotSize: 26,
        phases: [
          { kind: 'hands', minutes: 35 },
          { kind: 'wait', minutes: '4 h' },
        ],
        hazards: ['spray'],
        origin: 'handbook',
      },
      {
        id: 'paint-eyes',
        name: 'paint eyes and fins',
        part: 'herring',
        lotSize: 26,
        phases: [
          { kind: 'hands', perUnit: { low: 1, likely: 1.5, high: 3 } },
          { kind: 'wait', minutes: '2 h' },
        ],
        learning: 0.9,
        origin: 'guessed',
      },
      {
        id: 'print-cranks',
        name: 'print cranks',
        part: 'crank',
        lotSize: 12,
        phases: [
          { kind: 'hands', minutes: 8 },
          { kind: 'run', machine: 'printer', minutes: '4 h 10 min' },
          { kind: 'hands', minutes: 4 },
        ],
        hazards: ['fumes'],
        origin: 'trial',
      },
      {
        id: 'print-bushings',
        name: 'print bushings',
        part: 'bushing',
        lotSize: 40,
        phases: [
          { kind: 'hands', minutes: 6 },
          { kind: 'run', machine: 'printer', minutes: '3 h 10 min' },
          { kind: 'hands', minutes: 4 },
        ],
        hazards: ['fumes'],
        origin: 'trial',
      },
      {
        id: 'press-bushings',
        name: 'press bushings',
        perSet: true,
        count: '2 * fish_per_panel',
        uses: ['bushing'],
        after: ['mill-panels'],
        lotSize: 24,
        phases: [{ kind: 'hands', perUnit: { units: 18, minutes: 45 } }],
        setup: 10,
        stations: 1,
      },
      {
        id: 'fit-posts',
        name: 'fit posts',
        perSet: true,
        count: 'fish_per_panel',
        uses: ['post', 'screw'],
        after: ['press-bushings'],
        lotSize: 12,
        phases: [{ kind: 'hands', perUnit: 3 }],
        learning: 0.9,
        hazards: ['blades'],
        origin: 'guessed',
      },
      {
        id: 'mount-fish',
        name: 'mount herring',
        perSet: true,
        count: 'fish_per_panel',
        uses: ['herring', 'crank'],
        after: [{ step: 'fit-posts', type: 'units' }],
        lotSize: 12,
        phases: [{ kind: 'hands', perUnit: { low: 3, likely: 4, high: 8 } }],
        origin: 'guessed',
      },
      {
        id: 'wire-panel',
        name: 'wire panel',
        perSet: true,
        uses: ['motor'],
        after: ['mount-fish'],
        phases: [{ kind: 'hands', minutes: '2 h 30 min', who: ['runa'] }],
        hazards: ['mains'],
        origin: 'guessed',
      },
      {
        id: 'soak-test',
        name: 'soak test',
        perSet: true,
        phases: [
          { kind: 'hands', minutes: 15 },
          { kind: 'wait', minutes: '8 h' },
          { kind: 'hands', minutes: 10 },
        ],
        hazards: ['mains', 'moving-parts'],
        origin: 'guessed',
      },
      {
        id: 'pack-wall',
        name: 'pack the wall',
        after: ['soak-test'],
        phases: [{ kind: 'hands', minutes: 90 }],
        hazards: ['lifting'],
        origin: 'guessed',
      },
      {
        id: 'load-in-wall',
        name: 'load in and hang',
        onSite: true,
        after: ['pack-wall'],
        phases: [{ kind: 'hands', minutes: '3 h', people: 2 }],
        hazards: ['height', 'overhead', 'lifting'],
        origin: 'guessed',
      },
      {
        id: 'rehearse',
        name: 'rehearse',
        onSite: true,
        after: ['load-in-wall'],
        phases: [{ kind: 'hands', minutes: 60, people: 2 }],
        origin: 'guessed',
      },
    ],
    gates: [
      {
        id: 'panel-swims',
        name: 'the panel swims',
        perSet: true,
        after: ['wire-panel'],
        before: ['soak-test'],
        minutes: 30,
        failChance: 0.15,
        sendsBack: [{ step: 'mount-fish', units: 4 }],
        proveFirst: true,
        holds: ['mount-fish'],
        hazards: ['mains', 'moving-parts'],
        signedBy: 'the electrician of the museum',
      },
    ],
    decisions: [
      { id: 'eye-colour', question: 'Eyes white or brass?', waits: ['paint-eyes'], answers: ['white', 'brass'] },
    ],
  };
}

type Told = Omit<NewLogEntry, 'id' | 'at' | 'who'> & {
  readonly day: number;
  readonly time: string;
  readonly who?: string;
};

function wallLog(today: number, now: number): LogEntry[] {
  const told: Told[] = [
    { day: -6, time: '18:20', kind: 'ordered', step: 'cut-herring', n: 78 },
    { day: -6, time: '18:50', kind: 'ordered', step: 'mill-panels', n: 3 },
    { day: -6, time: '19:10', kind: 'loaded', step: 'print-cranks', n: 12, machine: 'printer' },
    { day: -6, time: '22:10', kind: 'loaded', step: 'print-bushings', n: 40, machine: 'printer' },
    { day: -5, time: '18:05', kind: 'done', step: 'print-cranks', n: 11 },
    { day: -5, time: '18:06', kind: 'scrapped', step: 'print-cranks', n: 1, reason: 'came off the bed' },
    { day: -5, time: '18:12', kind: 'loaded', step: 'print-cranks', n: 12, machine: 'printer' },
    { day: -5, time: '18:20', kind: 'done', step: 'print-bushings', n: 40 },
    { day: -5, time: '22:25', kind: 'done', step: 'print-cranks', n: 12 },
    { day: -5, time: '22:28', kind: 'loaded', step: 'print-cranks', n: 12, machine: 'printer' },
    { day: -4, time: '18:10', kind: 'done', step: 'print-cranks', n: 12 },
    { day: -4, time: '18:30', kind: 'ordered', step: 'order-post', n: 75 },
    { day: -4, time: '19:00', kind: 'loaded', step: 'print-bushings', n: 40, machine: 'printer' },
    { day: -3, time: '12:30', kind: 'received', step: 'cut-herring', n: 78 },
    { day: -3, time: '18:00', kind: 'done', step: 'print-bushings', n: 38 },
    { day: -3, time: '18:01', kind: 'scrapped', step: 'print-bushings', n: 2, reason: 'bore too tight' },
    { day: -3, time: '18:15', kind: 'began', step: 'sand-fish', person: 'runa' },
    { day: -3, time: '19:25', kind: 'done', step: 'sand-fish', n: 18 },
    { day: -3, time: '20:40', kind: 'done', step: 'sand-fish', n: 20 },
    { day: -3, time: '21:50', kind: 'done', step: 'sand-fish', n: 18 },
    { day: -3, time: '21:51', kind: 'paused', step: 'sand-fish', person: 'runa' },
    { day: -2, time: '18:00', kind: 'lost', until: isoOf(today - 2, '22:30'), reason: 'no power in the street' },
    { day: -1, time: '18:05', kind: 'began', step: 'sand-fish', person: 'runa' },
    { day: -1, time: '19:20', kind: 'done', step: 'sand-fish', n: 20 },
    { day: -1, time: '19:21', kind: 'scrapped', step: 'sand-fish', n: 1, reason: 'split along the grain' },
    { day: -1, time: '19:22', kind: 'paused', step: 'sand-fish', person: 'runa' },
    { day: -1, time: '20:10', kind: 'done', step: 'prime', n: 26 },
    { day: -1, time: '20:55', kind: 'done', step: 'prime', n: 26 },
    { day: -1, time: '21:10', kind: 'promised', step: 'mill-panels', until: isoOf(today + 1, '11:00') },
    { day: -1, time: '21:12', kind: 'promised', step: 'order-post', until: isoOf(today + 1, '12:00') },
    { day: -1, time: '22:20', kind: 'loaded', step: 'print-cranks', n: 12, machine: 'printer' },
  ];
  return told
    .map(({ day, time, ...entry }, i) => {
      const at = isoOf(today + day, time);
      return {
        ...entry,
        id: `wall-entry-${String(i + 1).padStart(3, '0')}`,
        at,
        who: entry.who ?? 'Runa',
        arrived: at,
        seq: i + 1,
      };
    })
    .filter((entry) => Date.parse(entry.at) / 60_000 <= now);
}

function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

function isoOf(day: number, time: string): string {
  return `${dateOf(day)}T${time}:00Z`;
}
