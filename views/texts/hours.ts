/** The sentences for hours that wear people out, and for what is dangerous at night, alone or unwatched. */

import { worded } from '../../server/model/texts/language.ts';
import { listOf, some } from './grammar.ts';

export const hoursTexts = worded({
  rest: (who: string, hours: string, from: string, to: string) =>
    `${who} rests ${hours}, from ${from} to ${to}. EU minimum for employees: 11 h between shifts.`,
  week: (who: string, hours: string, from: string) =>
    `${who} works ${hours} in the seven days from ${from}. EU limit for employees: 48 h a week.`,
  average: (who: string, hours: string, weeks: number) =>
    `${who} works ${hours} a week on average over ${some(weeks, 'week', 'weeks')}. EU limit for employees: 48 h.`,
  noDayOff: (who: string, from: string, longest: string | null) =>
    `${who} has no full day off in the seven days from ${from}; ${longest === null ? 'there is no break at all' : `the longest break is ${longest}`}. EU minimum for employees: 35 h.`,
  noBreak: (who: string, hours: string, from: string) =>
    `${who} works up to ${hours} without a break of 20 min, first from ${from}. EU minimum for employees: a break where the day is longer than 6 h.`,
  longShift: (who: string, hours: string, from: string) =>
    `${who} works up to ${hours} in one shift, first from ${from}. HSE guidance: 12 h at most, overtime included.`,
  nightShifts: (who: string, hours: string, nights: number, from: string) =>
    `${who} works ${hours} ${nights === 1 ? 'in a shift' : `on average in ${nights} shifts`} with at least 3 h of night, first from ${from}. EU limit for night workers: 8 h on average.`,
  nightsInARow: (who: string, nights: number, day: string) =>
    `${who} works in ${some(nights, 'night', 'nights')} in a row from ${day}. HSE guidance: 3 at most, then two nights’ sleep.`,
  night: (who: string, hours: string, day: string, steps: readonly string[]) =>
    `${who} works ${hours} between 00:00 and 05:00 on ${day} (${listOf(steps)}).`,
  nightRisk: 'People make mistakes at that hour.',
  nightDanger: (hazards: readonly string[]) =>
    `Dangerous work (${listOf(hazards)}) belongs to rested people and daylight hours: move it.`,
  fireWatch: 'Watch the place after the last spark.',
  alone: (who: string, hours: string, step: string, hazards: readonly string[], first: string) =>
    `${who} is alone for ${hours} at ${step} (${listOf(hazards)}), first ${first}.`,
  withinCall: 'Have somebody within earshot.',
  notAtHeight: 'Never work at height alone: have somebody there.',
  unwatched: (step: string, phase: string, hours: string, hazards: readonly string[], first: string) =>
    `${step} ${phase} for ${hours} unattended (${listOf(hazards)}), first ${first}.`,
  phase: {
    run: (machine: string) => `runs on ${machine}`,
    wait: 'waits',
  },
  /** What is said of each hazard where nobody watches; the first that applies. */
  watch: {
    lasers: 'A laser cutter never runs without somebody watching it.',
    'hot-work': 'Stay with hot work, and watch the place after the last spark.',
    batteries: 'Lithium cells are never left charging unattended.',
    mains: 'Never leave it on mains power unwatched: stay with it, or switch it off.',
    spray: 'Solvent vapour burns: keep the air moving, keep sparks and flames away, and leave no rags behind.',
    resins: 'Curing resin gets hot: leave it where nothing can catch fire.',
    'moving-parts': 'Never leave it moving where somebody can reach in: switch it off, or have somebody there.',
    pressure: 'Switch the compressor off and let the pressure out before you leave.',
    'solvent-rags':
      'Rags can catch fire by themselves: first lay them flat outdoors, or in water in a metal can with a lid.',
    'outdoor-mains': 'Never leave power on outdoors unwatched: rain comes, and so do people.',
    isocyanates: 'Keep everybody out while it cures, with the air drawn outdoors.',
  },
  unattendedNights: (machine: string, nights: number, hours: string, first: string) =>
    nights === 1
      ? `${machine} runs unattended for ${hours} in the night to ${first}.`
      : `${machine} runs unattended on ${some(nights, 'night', 'nights')}, ${hours} altogether, the first to ${first}.`,
  fire: 'Nobody would see a fire: have at least a smoke alarm that wakes somebody.',
  guide:
    'Limits of work and rest: Directive 2003/88/EC, for employees in the EU, and HSE guidance HSG256. Here they are a guide; your local law decides.',
});
