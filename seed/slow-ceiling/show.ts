/** The last days of the Slow Ceiling: what is in which box, the way to the room, the points, and the strike. */
import type { Build } from '../../server/model/index.ts';

const RAILS = [1, 2, 3, 4, 5] as const;

export const BOXES: NonNullable<Build['boxes']> = [
  {
    id: 'tool-bag',
    name: 'Tool bag',
    ...{ width: 500, height: 350, depth: 300, weight: 14 },
    tools: ['drill and two batteries', 'spanners 13 and 17', 'spirit level, 1.2 m', 'harness for the platform'],
    kit: ['cord, 20 m', 'fuses of 2 A, five', 'needle and whipping twine', 'tape'],
  },
  {
    id: 'spares',
    name: 'Box of spares',
    ...{ width: 1250, height: 150, depth: 200, weight: 9 },
    parts: [
      { part: 'slat', count: 3, spare: true },
      { part: 'pulley', count: 8, spare: true },
      { part: 'cord', count: 8, spare: true },
      { part: 'counterweight', count: 2, spare: true },
    ],
  },
  ...RAILS.map((n) => ({
    id: `rail-${n}`,
    name: `Rail ${n}`,
    ...{ width: 2600, height: 350, depth: 420, weight: 42.7, carriers: 4, opensAt: 'hang-rails', set: n },
    parts: [{ part: 'rail', count: 1 }],
    note: 'with its slats hooked up; the caretaker lends a hand',
  })),
  {
    id: 'drive',
    name: 'Drive',
    ...{ width: 520, height: 480, depth: 610, weight: 31, upright: true, opensAt: 'connect-mains' },
    parts: [{ part: 'drive', count: 1 }],
  },
];

export const WAYS: NonNullable<Build['passages']> = [
  { id: 'van', name: 'Hired van', kind: 'van', width: 1350, height: 1400, depth: 2900, payload: 900 },
  { id: 'side-door', name: 'Side door of the library', kind: 'door', width: 880, height: 2050 },
];

export const POINTS: NonNullable<Build['points']> = RAILS.map((n) => ({
  id: `rail-${n}-points`,
  name: `Rail ${n}, each of its four points`,
  load: '(rail_kg + 2 * slats_per_rail * slat_kg) / 4',
  limit: 15,
  gate: 'points-signed',
}));

export const STRIKE: NonNullable<Build['strike']> = [
  { id: 'take-down', name: 'lower the rails and take them off', minutes: '2 h', people: 2 },
  { id: 'carry-out', name: 'carry out and load', minutes: 45, people: 2 },
  { id: 'take-back', name: 'drive back, give back the van', minutes: '1 h 15 min', who: ['sefa'] },
];
