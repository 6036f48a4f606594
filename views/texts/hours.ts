/** The sentences for hours that wear people out, and for what is dangerous at night, alone or unwatched. */
import { CAUTION_FOOTER } from './cautions.ts';
import { listOf, some } from './grammar.ts';

export const hoursTexts = {
  rest: (who: string, hours: string, from: string, to: string) =>
    `${who} rests ${hours}, from ${from} to ${to}. EU minimum for employees: 11 h between two days.`,
  week: (who: string, hours: string, from: string) =>
    `${who} works ${hours} in the seven days from ${from}. EU limit for employees: 48 h a week.`,
  average: (who: string, hours: string, weeks: number) =>
    `${who} works ${hours} a week on average over ${weeks} weeks. EU limit for employees: 48 h.`,
  noDayOff: (who: string, from: string, longest: string | null) =>
    `${who} has no day off in the seven days from ${from}: the longest rest is ${longest ?? 'nothing'}. EU minimum for employees: 35 h.`,
  night: (who: string, hours: string, day: string, steps: readonly string[]) =>
    `${who} works ${hours} between 00:00 and 05:00 on ${day} (${listOf(steps)}).`,
  nightRisk: 'People make mistakes at that hour.',
  nightDanger: (hazards: readonly string[]) =>
    `Dangerous work (${listOf(hazards)}) belongs to rested people and daylight hours: move it.`,
  fireWatch: 'Watch the place after the last spark.',
  alone: (who: string, hours: string, step: string, hazards: readonly string[], first: string) =>
    `${who} is alone for ${hours} at ${step} (${listOf(hazards)}), first ${first}.`,
  withinCall: 'Have somebody within call.',
  notAtHeight: 'Nobody works at height alone: have somebody there.',
  unwatched: (step: string, phase: string, hours: string, hazards: readonly string[], first: string) =>
    `${step} ${phase} for ${hours} with nobody needed (${listOf(hazards)}), first ${first}.`,
  phase: {
    run: (machine: string) => `runs on ${machine}`,
    wait: 'waits',
  },
  /** What is said of each hazard where nobody watches; the first that applies. */
  watch: {
    lasers: 'A laser cutter never runs without somebody watching it.',
    'hot-work': 'Somebody stays with hot work, and watches the place after the last spark.',
    batteries: 'Lithium cells are never left charging unattended.',
    mains: 'Do not leave it under mains power unwatched: somebody looks after it, or it is switched off.',
    spray: 'Solvent vapour burns: keep air moving and anything that lights it away, and do not leave rags lying.',
    resins: 'Curing resin gets hot: leave it where nothing can catch fire.',
    'moving-parts': 'Do not leave it moving where somebody can reach in: switch it off, or have somebody there.',
    pressure: 'Shut the compressor off and let the pressure out before you leave.',
    'solvent-rags':
      'Rags heat by themselves: take them out first, flat outdoors or in water in a metal can with a lid.',
    'outdoor-mains': 'Do not leave power on outdoors unwatched: rain comes, and people.',
    isocyanates: 'Nobody goes in while it cures, and the air is moved outdoors.',
  },
  unattendedNights: (machine: string, nights: number, hours: string, first: string) =>
    nights === 1
      ? `${machine} runs unattended for ${hours} in the night to ${first}.`
      : `${machine} runs unattended in ${some(nights, 'night', 'nights')}, ${hours} in all, the first to ${first}.`,
  fire: 'Nobody would see a fire: at least have a smoke alarm that wakes somebody.',
  guide:
    'Limits of work and rest: Directive 2003/88/EC, for employees in the EU, and HSE guidance HSG256. Here they are a guide; your local law decides.',
  cautions: CAUTION_FOOTER,
};
