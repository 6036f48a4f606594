/**
 * A build whose search ends with an order that is ready at the same minute as the one it began with, and is far less
 * likely to be.
 */
import type { Build } from '../../../server/model/index.ts';

/** Bays that are milled, baked and mounted by three people with odd hours, between two suppliers. */
export function lateShifts(): { build: Build; log: []; now: number } {
  return { build: BUILD, log: [], now: Date.UTC(2027, 2, 11, 12, 45) / 60_000 };
}

const BUILD: Build = {
  id: 'bays',
  name: 'Late shifts',
  zone: 'America/New_York',
  start: '2027-03-04T08:00',
  event: '2027-03-21T19:00',
  loadIn: '2027-03-21T08:00',
  readyBy: '2027-03-18T18:00',
  sets: { count: 3, name: 'bay' },
  people: [
    {
      id: 'ana',
      name: 'Ana',
      hours: 'daily 10:00-14:00 16:00-20:00',
      exceptions: [
        { date: '2027-03-15', hours: '00:00-06:00 14:00-20:00' },
        { date: '2027-03-12', hours: '22:00-05:00' },
        { date: '2027-03-11', hours: '09:00-13:00' },
      ],
    },
    {
      id: 'ben',
      name: 'Ben',
      hours: 'tue thu 17:30-21:15; sun 09:00-18:00',
      exceptions: [{ date: '2027-03-16', hours: '22:00-05:00' }],
    },
    { id: 'cem', name: 'Cem', hours: 'sat 14:00-24:00; sun 00:00-02:30' },
  ],
  machines: [
    { id: 'mill', name: 'mill', count: 1, hours: 'daily 08:00-20:00' },
    { id: 'oven', name: 'oven', unattended: false, overnight: false },
  ],
  suppliers: [
    { id: 'yard', name: 'the yard', lead: 2, workingDays: 'mon-sat', deliveryTime: '08:30', express: { lead: 1 } },
    {
      id: 'shop',
      name: 'coat shop',
      lead: { low: 1, likely: 2, high: 3 },
      cutOff: '10:30',
      deliveryDays: 'mon-fri',
      deliveryTime: '12:00',
    },
  ],
  parts: [
    { id: 'rib', name: 'rib', source: 'make', usedIn: [{ part: 'panel', count: 1 }], spares: 3 },
    { id: 'panel', name: 'panel', source: 'make', count: 9 },
    {
      id: 'batten',
      name: 'batten',
      source: 'buy',
      supplier: 'yard',
      usedIn: [{ part: 'rib', count: 4 }],
      packSize: 8,
      onHand: 3,
    },
    { id: 'pin', name: 'pin', source: 'buy', usedIn: [{ part: 'panel', count: 6 }] },
  ],
  steps: [
    {
      id: 'cut',
      name: 'cut',
      part: 'rib',
      lotSize: 1,
      phases: [{ kind: 'hands', perUnit: { low: 4, likely: 8, high: 20 } }],
    },
    {
      id: 'mill',
      name: 'mill it',
      part: 'rib',
      lotSize: 5,
      phases: [
        { kind: 'hands', minutes: 8 },
        { kind: 'run', machine: 'mill', minutes: 198 },
        { kind: 'hands', minutes: 6 },
      ],
    },
    { id: 'draw', name: 'draw', count: 1, lotSize: 1, phases: [{ kind: 'hands', minutes: 31, oneGo: true }] },
    { id: 'fit', name: 'fit', part: 'panel', lotSize: 3, phases: [{ kind: 'hands', perUnit: 10, people: 2 }] },
    { id: 'bake', name: 'bake', part: 'panel', lotSize: 1, phases: [{ kind: 'run', machine: 'oven', minutes: 116 }] },
    { id: 'mount', name: 'mount', part: 'panel', lotSize: 2, phases: [{ kind: 'hands', perUnit: 15, people: 1 }] },
    {
      id: 'trim',
      name: 'trim',
      count: 5,
      lotSize: 1,
      phases: [{ kind: 'hands', perUnit: 18 }],
      after: [{ step: 'cut', type: 'finish-finish', lag: 250, lagIn: 'working' }],
    },
    { id: 'hang', name: 'hang', onSite: true, phases: [{ kind: 'hands', minutes: 126, people: 2 }], after: ['mount'] },
    {
      id: 'wire',
      name: 'wire',
      onSite: true,
      count: 1,
      lotSize: 1,
      phases: [{ kind: 'hands', minutes: 17 }],
      after: ['hang'],
    },
  ],
  gates: [
    {
      id: 'check',
      name: 'check',
      perSet: false,
      after: ['bake'],
      before: ['mount'],
      minutes: 24,
      failChance: 0.2,
      sendsBack: [{ step: 'fit', units: 1 }],
      proveFirst: false,
    },
    { id: 'light', name: 'light', after: ['wire'], minutes: 20, onSite: true, powerOn: true, failChance: 0.1 },
  ],
};
