/**
 * Warnings where a plan leans on tired people: too little rest, too long a week, no day off, shifts (`shifts.ts`),
 * nights, and dangerous work alone.
 *
 * The limits are the minimums of Directive 2003/88/EC for employed workers (articles 2 to 6 and 8), and HSE guidance
 * HSG256 on fatigue. Most makers are outside that law: these are warnings, never verdicts. Rest and weeks are measured
 * in elapsed time, so a clock change neither gives nor takes an hour.
 */
import type { WorkHoursWarning } from '../../../model/index.ts';
import { ALONE_HAZARDS, type Hazard, NIGHT_HAZARDS, UNWATCHED_HAZARDS } from '../../../model/step.ts';
import {
  calendarFrom,
  dayAt,
  instantOfWall,
  intervalsOf,
  MINUTES_PER_DAY,
  nextOpen,
  openMinutesBetween,
  subtractOpenTime,
  totalOpenMinutes,
  weekdayOf,
} from '../../calendar/index.ts';
import { groupedBy } from '../../numbers/index.ts';
import type { Calendar, Instant, Minutes } from '../../types.ts';
import { nightsTouched, shiftFindings, type Warned } from './shifts.ts';

/** Article 3: consecutive hours of rest in every 24. */
const REST_MINUTES = 11 * 60;
/** Article 6: hours a week, overtime included. */
const WEEK_MINUTES = 48 * 60;
/** Article 5: a day of rest and the daily rest with it, in every seven days. */
const WEEKLY_REST_MINUTES = 35 * 60;
/** Article 16: the average week is taken over four months at most. */
const AVERAGE_WEEKS = 17;

/** Somebody at work without a pause. */
export interface WorkSpell {
  readonly start: Instant;
  readonly finish: Instant;
  readonly step: string;
  readonly hazards: readonly Hazard[];
}

interface WorkingPerson {
  readonly id: string;
  readonly spells: readonly WorkSpell[];
}

/** A run that nobody attends, or a wait: something that charges, dries, cures or is under test by itself. */
export interface Unattended {
  readonly step: string;
  /** null: a wait. */
  readonly machine: string | null;
  readonly hazards: readonly Hazard[];
  readonly start: Instant;
  readonly finish: Instant;
}

/**
 * All warnings for these people and for what goes on by itself, by time. Spells of one person may touch or overlap. O(n
 * log n) in the spells of a person.
 */
export function workHoursWarnings(
  people: readonly WorkingPerson[],
  unattended: readonly Unattended[],
  zone: string,
): WorkHoursWarning[] {
  const worked = people.map((person) =>
    calendarFrom(person.spells.map((spell) => [spell.start, spell.finish] as const)),
  );
  const findings = people.flatMap((person, i) => {
    const others = calendarFrom(worked.flatMap((open, k) => (k === i ? [] : intervalsOf(open))));
    return [
      ...restFindings(person, worked[i]!),
      ...weekFindings(person, worked[i]!),
      ...averageFindings(person, worked[i]!, zone),
      ...dayOffFindings(person, worked[i]!),
      ...shiftFindings(worked[i]!, zone).map((warned) => finding(person, warned)),
      ...nightFindings(person, worked[i]!, zone),
      ...aloneFindings(person, others),
    ];
  });
  return [...findings, ...unwatchedFindings(unattended), ...unattendedNights(unattended, zone)].sort(
    (a, b) => a.at - b.at,
  );
}

/** Whether the average of these weeks, in minutes, is more than 48 hours. */
export function isAverageWeekOver(weekMinutes: readonly Minutes[]): boolean {
  return averageMinutes(weekMinutes) > WEEK_MINUTES;
}

const UNSAID = { weeks: null, nights: null, steps: [], hazards: [], machine: null, phase: null, strong: false };

function finding(person: WorkingPerson | null, warned: Warned): WorkHoursWarning {
  return { person: person?.id ?? null, ...UNSAID, ...warned };
}

/**
 * The 24 hours from when somebody begins after a rest must hold the next rest: the gap with most of its time in them.
 * It is measured to its end, and the next 24 hours begin there. So a lunch is no short night, and a short night is not
 * lost among lunches.
 */
function restFindings(person: WorkingPerson, worked: Calendar): WorkHoursWarning[] {
  const findings: WorkHoursWarning[] = [];
  const { opens, closes } = worked;
  for (let i = 0; i < opens.length; ) {
    const end = opens[i]! + MINUTES_PER_DAY;
    let rest = i;
    let longest = Number.NEGATIVE_INFINITY;
    for (let k = i; k < opens.length && opens[k]! < end && longest < REST_MINUTES; k++) {
      const within = Math.min(opens[k + 1] ?? end, end) - closes[k]!;
      if (within > longest) [rest, longest] = [k, within];
    }
    const [finish, start] = [closes[rest]!, opens[rest + 1]];
    if (start !== undefined && start - finish < REST_MINUTES) {
      const minutes = start - finish;
      findings.push(finding(person, { code: 'rest', at: start, minutes }));
    }
    i = rest + 1;
  }
  return findings;
}

/** The worst seven days of each stretch in which seven days hold more than 48 hours. */
function weekFindings(person: WorkingPerson, worked: Calendar): WorkHoursWarning[] {
  const findings: WorkHoursWarning[] = [];
  let worst: { from: Instant; minutes: Minutes } | null = null;
  const report = (): void => {
    if (worst === null) return;
    findings.push(finding(person, { code: 'week', at: worst.from, minutes: worst.minutes }));
    worst = null;
  };
  // The fullest seven days begin with a spell or end with one.
  const ending = Array.from(worked.closes, (close) => nextOpen(worked, close - 7 * MINUTES_PER_DAY));
  const starts = [...worked.opens, ...ending];
  for (const from of starts.sort((a, b) => a - b)) {
    const minutes = openMinutesBetween(worked, from, from + 7 * MINUTES_PER_DAY);
    if (worst !== null && from >= worst.from + 7 * MINUTES_PER_DAY) report();
    if (minutes > WEEK_MINUTES && (worst === null || minutes > worst.minutes)) worst = { from, minutes };
  }
  report();
  return findings;
}

/**
 * The average of the calendar weeks (Monday to Sunday) worked in, the empty ones between them included, the latest four
 * months of them.
 */
function averageFindings(person: WorkingPerson, worked: Calendar, zone: string): WorkHoursWarning[] {
  const weeks = weeksWorked(worked, zone).slice(-AVERAGE_WEEKS);
  const minutes = weeks.map((week) => week.minutes);
  if (weeks.length < 2 || !isAverageWeekOver(minutes)) return [];
  const average = Math.round(averageMinutes(minutes));
  return [finding(person, { code: 'week', at: weeks[0]!.start, minutes: average, weeks: weeks.length })];
}

/** Seven days from when somebody begins must hold a rest of 35 hours. */
function dayOffFindings(person: WorkingPerson, worked: Calendar): WorkHoursWarning[] {
  const findings: WorkHoursWarning[] = [];
  const { opens, closes } = worked;
  for (let i = 0; i < opens.length; ) {
    const end = opens[i]! + 7 * MINUTES_PER_DAY;
    let longest = 0;
    let k = i;
    for (; k < opens.length && opens[k]! < end; k++) {
      longest = Math.max(longest, Math.min(opens[k + 1] ?? end, end) - closes[k]!);
      if (longest >= WEEKLY_REST_MINUTES) break;
    }
    const rested = longest >= WEEKLY_REST_MINUTES;
    if (!rested) {
      findings.push(finding(person, { code: 'no-day-off', at: opens[i]!, minutes: longest }));
    }
    i = rested ? k + 1 : k;
  }
  return findings;
}

/** Each night in which somebody works between midnight and five. */
function nightFindings(person: WorkingPerson, worked: Calendar, zone: string): WorkHoursWarning[] {
  return nightsTouched(worked, zone).map(([from, to]) => {
    const during = person.spells.filter((spell) => spell.start < to && spell.finish > from);
    const dangerous = during.filter((spell) => spell.hazards.some((hazard) => NIGHT_HAZARDS.includes(hazard)));
    const strong = dangerous.length > 0;
    return finding(person, {
      code: 'night',
      at: nextOpen(worked, from),
      minutes: openMinutesBetween(worked, from, to),
      steps: stepsOf(strong ? dangerous : during),
      hazards: NIGHT_HAZARDS.filter((hazard) => dangerous.some((spell) => spell.hazards.includes(hazard))),
      strong,
    });
  });
}

/** Each step with a hazard that somebody does while nobody else is at work, once with all its minutes. */
function aloneFindings(person: WorkingPerson, others: Calendar): WorkHoursWarning[] {
  const bySteps = new Map<string, WorkSpell[]>();
  for (const spell of person.spells) {
    if (!spell.hazards.some((hazard) => ALONE_HAZARDS.includes(hazard))) continue;
    bySteps.set(spell.step, [...(bySteps.get(spell.step) ?? []), spell]);
  }
  return [...bySteps].flatMap(([step, spells]) => {
    const alone = subtractOpenTime(calendarFrom(spells.map((spell) => [spell.start, spell.finish] as const)), others);
    if (alone.opens.length === 0) return [];
    const hazards = ALONE_HAZARDS.filter((hazard) => spells.some((spell) => spell.hazards.includes(hazard)));
    const [at, minutes] = [alone.opens[0]!, totalOpenMinutes(alone)];
    return [finding(person, { code: 'alone', at, minutes, steps: [step], hazards, strong: true })];
  });
}

/** Each step with a hazard that runs or waits by itself, at any hour, once with all its minutes. */
function unwatchedFindings(unattended: readonly Unattended[]): WorkHoursWarning[] {
  const dangerous = unattended.filter(isDangerous);
  const byStep = groupedBy(dangerous, ({ step, machine }) => JSON.stringify([step, machine]));
  return [...byStep.values()].map((its) => {
    const { step, machine } = its[0]!;
    const hazards = UNWATCHED_HAZARDS.filter((hazard) => its.some((one) => one.hazards.includes(hazard)));
    const going = calendarFrom(its.map(({ start, finish }) => [start, finish] as const));
    return finding(null, {
      code: 'unattended',
      at: going.opens[0]!,
      minutes: totalOpenMinutes(going),
      steps: [step],
      hazards,
      machine,
      phase: machine === null ? 'wait' : 'run',
      strong: true,
    });
  });
}

function isDangerous({ hazards }: Unattended): boolean {
  return hazards.some((hazard) => UNWATCHED_HAZARDS.includes(hazard));
}

/**
 * Each machine that runs by itself in nights, once with all of them: nobody's hours, but a fire would be found late.
 */
function unattendedNights(unattended: readonly Unattended[], zone: string): WorkHoursWarning[] {
  const runs = unattended.filter((one) => one.machine !== null && !isDangerous(one));
  return [...groupedBy(runs, ({ machine }) => machine)].flatMap(([machine, its]) => {
    const running = calendarFrom(its.map((run) => [run.start, run.finish] as const));
    const nights = nightsTouched(running, zone);
    if (nights.length === 0) return [];
    return [
      finding(null, {
        code: 'unattended-night',
        at: nextOpen(running, nights[0]![0]),
        minutes: nights.reduce((sum, [from, to]) => sum + openMinutesBetween(running, from, to), 0),
        nights: nights.length,
        machine,
      }),
    ];
  });
}

function weeksWorked(worked: Calendar, zone: string): { start: Instant; minutes: Minutes }[] {
  if (worked.opens.length === 0) return [];
  const first = dayAt(worked.opens[0]!, zone);
  const last = dayAt(worked.closes.at(-1)! - 1, zone);
  const weeks: { start: Instant; minutes: Minutes }[] = [];
  for (let monday = first - weekdayOf(first) + 1; monday <= last; monday += 7) {
    const [start, end] = [instantOfWall(monday, 0, zone), instantOfWall(monday + 7, 0, zone)];
    weeks.push({ start, minutes: openMinutesBetween(worked, start, end) });
  }
  return weeks;
}

function averageMinutes(weekMinutes: readonly Minutes[]): number {
  return weekMinutes.reduce((sum, minutes) => sum + minutes, 0) / Math.max(1, weekMinutes.length);
}

function stepsOf(spells: readonly WorkSpell[]): string[] {
  return [...new Set(spells.map((spell) => spell.step))];
}
