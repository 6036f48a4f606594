import type { Build } from '../../server/model/index.ts';

/**
 * An invented wall of three panels with 24 wooden herring each, small enough to know by heart. Event: Sat 5 Dec 2026
 * 19:00 in Rotterdam's zone.
 */
export function fakeBuild(): Build {
  return {
    id: 'tide-wall',
    name: 'Tide Wall',
    zone: 'Europe/Amsterdam',
    start: '2026-11-16T09:00',
    event: '2026-12-05T19:00',
    loadIn: '2026-12-05T08:00',
    readyBy: '2026-12-04T18:00',
    sets: { count: 'panels', name: 'panel' },
    confidence: 0.9,
    currency: 'EUR',
    parameters: [
      { name: 'panels', value: 3, unit: 'panels', origin: 'measured' },
      { name: 'fish_per_panel', value: 24, unit: 'fish' },
      { name: 'fish', formula: 'panels * fish_per_panel', unit: 'fish' },
      { name: 'crank_minutes', range: { low: 12, likely: 14, high: 20 }, unit: 'min', origin: 'guessed' },
    ],
    limits: [
      { id: 'weight', name: 'weight on a hook', of: 'fish * 0.2', least: 0, most: 200, unit: 'kg', parts: ['fish'] },
    ],
    parts: [
      { id: 'panel', name: 'panel', source: 'send-out', count: 'panels', supplier: 'mill', unitCost: 180 },
      {
        id: 'fish',
        name: 'fish',
        source: 'send-out',
        usedIn: [{ part: 'panel', count: 'fish_per_panel' }],
        spares: 4,
        supplier: 'saw',
        unitCost: 3.2,
        dependsOn: ['fish_per_panel'],
      },
      { id: 'crank', name: 'crank', source: 'make', usedIn: [{ part: 'fish', count: 1 }], yield: 0.95, spares: 3 },
      { id: 'bushing', name: 'bushing', source: 'make', usedIn: [{ part: 'fish', count: 2 }], spares: 6 },
      {
        id: 'screw',
        name: 'screw M3 x 8',
        source: 'buy',
        usedIn: [{ part: 'fish', count: 2 }],
        packSize: 100,
        supplier: 'ironmonger',
        unitCost: 0.06,
      },
    ],
    suppliers: [
      { id: 'mill', name: 'the mill', workingDays: 'mon-fri', cutOff: '14:00', lead: { low: 3, likely: 4, high: 7 } },
      { id: 'saw', name: 'the saw yard', lead: 3, deliveryDays: 'tue fri', express: { lead: 1, extraCost: 45 } },
      { id: 'ironmonger', name: 'the ironmonger', lead: 1, cutOff: '16:00' },
    ],
    people: [
      {
        id: 'maker',
        name: 'Maker',
        hours: 'mon-fri 09:00-12:30 13:30-18:00; sat 10:00-14:00',
        exceptions: [{ date: '2026-11-27', hours: 'off', note: 'away' }],
      },
      { id: 'helper', name: 'Helper', hours: 'mon wed fri 18:00-21:00', can: ['mount-fish', 'paint-fish', 'press'] },
    ],
    machines: [{ id: 'printer', name: 'printer', count: 2, hours: 'always', unattended: true, overnight: true }],
    steps: [
      {
        id: 'print-cranks',
        name: 'print cranks',
        part: 'crank',
        lotSize: 8,
        phases: [
          { kind: 'hands', minutes: 8 },
          { kind: 'run', machine: 'printer', minutes: 30, perUnit: 'crank_minutes' },
          { kind: 'hands', minutes: 4 },
        ],
        origin: 'guessed',
      },
      {
        id: 'print-bushings',
        name: 'print bushings',
        part: 'bushing',
        lotSize: 40,
        phases: [
          { kind: 'hands', minutes: 6 },
          { kind: 'run', machine: 'printer', minutes: 20, perUnit: 5 },
        ],
        origin: 'trial',
      },
      {
        id: 'paint-fish',
        name: 'paint fish, three coats',
        part: 'fish',
        lotSize: 24,
        phases: [
          { kind: 'hands', perUnit: { units: 18, minutes: 45 } },
          { kind: 'wait', minutes: '4 h' },
        ],
        learning: 0.95,
        hazards: ['spray'],
        origin: 'trial',
      },
      {
        id: 'press',
        name: 'press bushings',
        part: 'fish',
        lotSize: 12,
        phases: [{ kind: 'hands', perUnit: 1.5 }],
        after: ['paint-fish'],
      },
      {
        id: 'mount-fish',
        name: 'mount fish',
        perSet: true,
        count: 'fish_per_panel',
        lotSize: 6,
        phases: [{ kind: 'hands', perUnit: 9 }],
        after: [{ step: 'press', type: 'units', headStart: 2 }],
        origin: 'measured',
      },
      {
        id: 'wire',
        name: 'wire a panel',
        perSet: true,
        count: 1,
        phases: [{ kind: 'hands', minutes: 150, who: ['maker'] }],
        hazards: ['mains'],
        setup: 20,
      },
      {
        id: 'load',
        name: 'load the van',
        phases: [{ kind: 'hands', minutes: 90, people: 2, oneGo: true }],
        hazards: ['lifting'],
      },
      { id: 'set-up', name: 'set up and rehearse', onSite: true, phases: [{ kind: 'hands', minutes: 240 }] },
    ],
    feeds: [{ from: 'wire', to: 'load', type: 'finish-start', lag: '2 h', lagIn: 'clock' }],
    gates: [
      {
        id: 'soak',
        name: 'soak test',
        perSet: true,
        after: ['wire'],
        before: ['load'],
        minutes: '12 h',
        failChance: 0.15,
        sendsBack: [{ step: 'mount-fish', units: 2 }],
        proveFirst: true,
      },
    ],
    decisions: [{ id: 'colour', question: 'Which blue?', waits: ['paint-fish'], answers: ['deep', 'pale'] }],
    note: 'Opening night of the harbour museum.',
  };
}
