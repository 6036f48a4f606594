/**
 * What the plan warns of for each hazard, each kind of phase, by day and by night, alone and with somebody there: every
 * cell, through the whole plan. Common practice, no source; nights with dangerous work: HSE, HSG256 (2006), from
 * memory.
 */
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../../server/engine/index.ts';
import type { Build, Step } from '../../../../server/model/index.ts';
import { HAZARDS, type Hazard } from '../../../../server/model/step.ts';

/** Worse by night, worse alone, worse unwatched: one row a hazard. */
const DANGERS: Readonly<Record<Hazard, string>> = {
  dust: '',
  spray: 'alone unwatched',
  blades: 'night alone',
  mains: 'night alone unwatched',
  batteries: 'alone unwatched',
  'hot-work': 'night alone unwatched',
  lasers: 'alone unwatched',
  resins: 'alone unwatched',
  height: 'night alone',
  overhead: 'night alone',
  lifting: 'alone',
  fumes: '',
  noise: '',
  'moving-parts': 'night alone unwatched',
  pressure: 'alone unwatched',
  glass: 'night alone',
  'solvent-rags': 'unwatched',
  'outdoor-mains': 'night alone unwatched',
  isocyanates: 'alone unwatched',
  driving: 'night',
  'public-decor': '',
};
const HOURS = { day: '10:00', night: '01:00' } as const;
const MINUTES = 120;
const PHASES: Readonly<Record<string, NonNullable<Step['phases']>[number]>> = {
  hands: { kind: 'hands', minutes: MINUTES },
  watched: { kind: 'run', machine: 'rig', minutes: MINUTES, attended: true },
  run: { kind: 'run', machine: 'rig', minutes: MINUTES },
  wait: { kind: 'wait', minutes: MINUTES },
  lead: { kind: 'lead', supplier: 'shop' },
};
/** Somebody's hands, at the machine too. */
const BY_HAND = ['hands', 'watched'];

interface Cell {
  readonly phase: string;
  readonly hour: keyof typeof HOURS;
  readonly isAlone: boolean;
}

/** A step for each hazard, each on a day of its own and at a machine of its own, with days off between them. */
function warnedIn({ phase, hour, isAlone }: Cell): [Hazard, string[]][] {
  const steps = HAZARDS.flatMap((hazard, i): Step[] => {
    const notBefore = `${new Date(Date.UTC(2026, 11, 2 + 3 * i)).toISOString().slice(0, 10)}T${HOURS[hour]}`;
    const own = PHASES[phase]!.kind === 'run' ? { ...PHASES[phase]!, machine: hazard } : PHASES[phase]!;
    const step = { id: hazard, name: hazard, skill: 'it', hazards: [hazard], notBefore, phases: [own] } as Step;
    const sweep = { id: `sweep-${hazard}`, name: 'sweep', skill: 'sweep', notBefore, phases: [PHASES.hands!] } as Step;
    return isAlone ? [step] : [step, sweep];
  });
  const build: Build = {
    ...{ id: 'cell', name: 'Cell', zone: 'UTC', start: '2026-12-02T00:00', event: '2027-03-20T19:00' },
    people: [
      { id: 'ana', name: 'Ana', hours: 'daily 00:00-24:00', can: ['it'] },
      { id: 'ben', name: 'Ben', hours: 'daily 00:00-24:00', can: ['sweep'] },
    ],
    suppliers: [{ id: 'shop', name: 'Shop', lead: 1 }],
    machines: HAZARDS.map((id) => ({ id, name: id, unattended: true, overnight: true })),
    steps,
  };
  const now = Date.parse('2026-12-02T00:00Z') / 60_000;
  const { problems, workHours } = planBuild(build, [], now, { levelling: { seed: 1, schedules: 1 } });
  expect(problems).toEqual([]);
  return HAZARDS.map((hazard) => [
    hazard,
    workHours
      .filter(({ person, steps: at, machine }) => person !== 'ben' && (at.includes(hazard) || machine === hazard))
      .map(({ code, strong }) => `${code}${strong ? ', strong' : ''}`)
      .sort(),
  ]);
}

function expectedOf(hazard: Hazard, { phase, hour, isAlone }: Cell): string[] {
  const [night, alone, unwatched] = ['night', 'alone', 'unwatched'].map((one) => DANGERS[hazard].includes(one));
  if (phase === 'lead') return [];
  if (BY_HAND.includes(phase)) {
    const late = hour === 'night' ? [night ? 'night, strong' : 'night'] : [];
    return [...(isAlone && alone ? ['alone, strong'] : []), ...late];
  }
  if (unwatched) return ['unattended, strong'];
  return phase === 'run' && hour === 'night' ? ['unattended-night'] : [];
}

const CELLS = Object.keys(PHASES).flatMap((phase) =>
  (['day', 'night'] as const).flatMap((hour) => [true, false].map((isAlone): Cell => ({ phase, hour, isAlone }))),
);

describe('what is warned of, for every hazard', () => {
  it.each(CELLS)('at $phase by $hour, alone: $isAlone', (cell) => {
    expect(warnedIn(cell)).toEqual(HAZARDS.map((hazard) => [hazard, expectedOf(hazard, cell)]));
  });
});
