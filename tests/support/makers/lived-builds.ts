/** Three invented builds that a simulated maker works through, with hours that the maker can read. */
import type { Build } from '../../../server/model/index.ts';

/** Sat 1 Mar 2025 09:00 UTC: all of them begin then. */
export const FIRST_MORNING = Date.UTC(2025, 2, 1, 9) / 60_000;

/** Ada in the evenings and at weekends, Ben in some of them, Cleo on Saturdays. */
const ADA = 'mon-fri 17:00-22:00; sat-sun 09:00-13:00 14:00-18:00';
const BEN = 'mon-fri 18:00-21:00; sat 10:00-18:00';
const CLEO = 'sat 10:00-16:00';

/** Frames with drops for a theatre foyer: drops sent out, painted, hung; cams from two printers; a test each. */
export function rainCeiling(frames = 4, drops = 40): Build {
  const hands = (perUnit: number) => [{ kind: 'hands' as const, perUnit }];
  return {
    id: 'rain-ceiling',
    name: 'Rain ceiling',
    zone: 'UTC',
    start: '2025-03-01T09:00',
    readyBy: '2025-03-16T18:00',
    loadIn: '2025-03-17T08:00',
    event: '2025-03-17T19:00',
    sets: { count: 'frames', name: 'frame' },
    parameters: [
      { name: 'frames', value: frames, origin: 'decided' },
      { name: 'drops', value: drops, origin: 'decided' },
    ],
    people: [
      { id: 'ada', name: 'Ada', hours: ADA, exceptions: [{ date: '2025-03-17', hours: '08:00-19:00' }] },
      { id: 'ben', name: 'Ben', hours: BEN },
      { id: 'cleo', name: 'Cleo', hours: CLEO },
    ],
    machines: [{ id: 'printer', name: 'Printer', count: 2, unattended: true, overnight: true }],
    suppliers: [
      { id: 'cutter', name: 'Cutter', lead: 3, cutOff: '16:00', deliveryTime: '12:00' },
      { id: 'store', name: 'Store', lead: { low: 1, likely: 2, high: 3 }, cutOff: '18:00', deliveryTime: '12:00' },
    ],
    parts: [
      { id: 'frame', name: 'frame', source: 'make', count: 'frames' },
      {
        id: 'drop',
        name: 'drop',
        source: 'send-out',
        usedIn: [{ part: 'frame', count: 'drops' }],
        yield: 0.97,
        supplier: 'cutter',
      },
      { id: 'cam', name: 'cam', source: 'make', usedIn: [{ part: 'frame', count: 'drops' }], yield: 0.92 },
      { id: 'motor', name: 'motor', source: 'buy', usedIn: [{ part: 'frame', count: 1 }], supplier: 'store' },
    ],
    steps: [
      { id: 'sand', name: 'sand drops', part: 'drop', lotSize: 20, origin: 'trial', phases: hands(1.5) },
      {
        id: 'prime',
        name: 'prime drops',
        part: 'drop',
        lotSize: 40,
        origin: 'trial',
        phases: [
          { kind: 'hands', perUnit: 1 },
          { kind: 'wait', minutes: '4 h' },
        ],
      },
      {
        id: 'paint',
        name: 'paint drops',
        part: 'drop',
        lotSize: 40,
        origin: 'trial',
        phases: [
          { kind: 'hands', perUnit: 1.5 },
          { kind: 'wait', minutes: '6 h' },
        ],
      },
      {
        id: 'print',
        name: 'print cams',
        part: 'cam',
        lotSize: 12,
        origin: 'handbook',
        phases: [
          { kind: 'hands', minutes: 5 },
          { kind: 'run', machine: 'printer', minutes: 200 },
        ],
      },
      { id: 'clean', name: 'clean cams', part: 'cam', lotSize: 20, origin: 'trial', phases: hands(1) },
      {
        id: 'glue',
        uses: ['cam'],
        name: 'glue the frame',
        perSet: true,
        part: 'frame',
        lotSize: 1,
        origin: 'trial',
        phases: [
          { kind: 'hands', minutes: 90 },
          { kind: 'wait', minutes: 180 },
          { kind: 'hands', minutes: 20 },
        ],
      },
      {
        id: 'hang',
        name: 'hang drops',
        uses: ['drop'],
        part: 'frame',
        perSet: true,
        lotSize: 1,
        origin: 'trial',
        phases: [{ kind: 'hands', minutes: 120 }],
      },
      {
        id: 'wire',
        name: 'wire the frame',
        uses: ['motor'],
        part: 'frame',
        perSet: true,
        lotSize: 1,
        origin: 'trial',
        phases: [{ kind: 'hands', minutes: 60 }],
      },
      {
        id: 'pack',
        name: 'pack',
        part: 'frame',
        perSet: true,
        lotSize: 1,
        origin: 'trial',
        phases: [{ kind: 'hands', minutes: 25 }],
      },
      {
        id: 'put-up',
        name: 'put it up',
        onSite: true,
        after: ['pack'],
        origin: 'trial',
        phases: [{ kind: 'hands', minutes: 120, who: ['ada'] }],
      },
    ],
    gates: [
      {
        id: 'test',
        name: 'frame test',
        perSet: true,
        after: ['wire'],
        before: ['pack'],
        minutes: 30,
        failChance: 0.1,
        sendsBack: [{ step: 'hang', units: 1 }],
        proveFirst: true,
        holds: ['hang'],
      },
    ],
  };
}

/** Boxes of a book tower for a library: cut and glued up by hand, with a wait in the middle, stacked in the end. */
export function bookTower(boxes = 60): Build {
  return {
    id: 'book-tower',
    name: 'Book tower',
    zone: 'UTC',
    start: '2025-03-01T09:00',
    readyBy: '2025-03-16T18:00',
    event: '2025-03-17T12:00',
    people: [
      { id: 'ada', name: 'Ada', hours: ADA },
      { id: 'ben', name: 'Ben', hours: BEN },
    ],
    suppliers: [{ id: 'yard', name: 'Yard', lead: 2, cutOff: '15:00', deliveryTime: '10:00' }],
    parts: [
      { id: 'box', name: 'box', source: 'make', count: boxes },
      { id: 'board', name: 'board', source: 'buy', usedIn: [{ part: 'box', count: 2 }], supplier: 'yard' },
    ],
    steps: [
      {
        id: 'cut',
        name: 'cut boards',
        part: 'box',
        lotSize: 10,
        origin: 'trial',
        phases: [{ kind: 'hands', perUnit: 5 }],
      },
      {
        id: 'glue',
        name: 'glue boxes',
        part: 'box',
        lotSize: 10,
        origin: 'trial',
        phases: [
          { kind: 'hands', perUnit: 3 },
          { kind: 'wait', minutes: '3 h' },
          { kind: 'hands', perUnit: 1 },
        ],
      },
      {
        id: 'sand',
        name: 'sand boxes',
        part: 'box',
        lotSize: 10,
        origin: 'trial',
        phases: [{ kind: 'hands', perUnit: 6 }],
      },
      {
        id: 'stack',
        name: 'stack them',
        after: ['sand'],
        origin: 'trial',
        phases: [{ kind: 'hands', minutes: 180, people: 2 }],
      },
    ],
  };
}

/** Paper fish on wires for a fair: hands alone, and one person most evenings. */
export function paperReef(fish = 150): Build {
  return {
    id: 'paper-reef',
    name: 'Paper reef',
    zone: 'UTC',
    start: '2025-03-01T09:00',
    readyBy: '2025-03-15T18:00',
    event: '2025-03-16T10:00',
    people: [{ id: 'ada', name: 'Ada', hours: ADA }],
    parts: [{ id: 'fish', name: 'fish', source: 'make', count: fish, yield: 0.95 }],
    steps: [
      {
        id: 'fold',
        name: 'fold fish',
        part: 'fish',
        lotSize: 15,
        origin: 'trial',
        phases: [{ kind: 'hands', perUnit: 5 }],
      },
      {
        id: 'wax',
        name: 'wax fish',
        part: 'fish',
        lotSize: 30,
        origin: 'trial',
        phases: [
          { kind: 'hands', perUnit: 1 },
          { kind: 'wait', minutes: '5 h' },
        ],
      },
      {
        id: 'string',
        name: 'string fish',
        part: 'fish',
        lotSize: 15,
        origin: 'trial',
        phases: [{ kind: 'hands', perUnit: 4 }],
      },
      {
        id: 'pack',
        name: 'pack the reef',
        after: ['string'],
        origin: 'trial',
        phases: [{ kind: 'hands', minutes: 90 }],
      },
    ],
  };
}
