import type { Build, Step } from '../../../server/model/index.ts';

/**
 * Twenty parts of 40 units in lots of 14 and 10, printed, filed, painted and fitted by three people with two machines.
 */
export function threeHundredLots(event = '2026-12-24T19:00'): Build {
  const parts = Array.from({ length: 20 }, (_, i) => ({
    id: `part-${i}`,
    name: `part ${i}`,
    source: 'make' as const,
    count: 40,
  }));
  const steps = parts.flatMap(({ id }): Step[] => [
    {
      id: `${id}-print`,
      name: 'print',
      part: id,
      lotSize: 14,
      phases: [
        { kind: 'hands', minutes: 8 },
        { kind: 'run', machine: Number(id.slice(5)) % 2 ? 'printer' : 'router', minutes: 180 },
        { kind: 'hands', minutes: 5 },
      ],
    },
    { id: `${id}-file`, name: 'file', part: id, lotSize: 10, phases: [{ kind: 'hands', perUnit: 2 }] },
    {
      id: `${id}-paint`,
      name: 'paint',
      part: id,
      lotSize: 10,
      phases: [
        { kind: 'hands', minutes: 15 },
        { kind: 'wait', minutes: 120 },
      ],
    },
    { id: `${id}-fit`, name: 'fit', part: id, lotSize: 10, phases: [{ kind: 'hands', perUnit: 3 }] },
  ]);
  const hours = 'mon-fri 08:00-12:00 13:00-17:00; sat 09:00-13:00';
  return {
    id: 'bench',
    name: 'Bench',
    zone: 'UTC',
    event,
    people: ['ann', 'bob', 'cyd'].map((id) => ({ id, name: id, hours })),
    machines: ['printer', 'router'].map((id) => ({ id, name: id })),
    parts,
    steps,
  };
}
