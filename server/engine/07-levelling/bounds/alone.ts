/** When phases that hang together can end at the earliest if nobody else wants their hands and machines. */
import { FREE, HANDS, LEAD, RUN } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';

/** Choices of calendars for one group that are tried, at most. */
const MOST_CHOICES = 64;
/** Moves of one choice to later, at most; what is not settled by then is bounded by where it came to. */
const MOST_MOVES = 200;

/**
 * The least finish of phases `first` to `last` of a forward instance, which follow each other at once (hands may pause
 * while their own people are away), from `from` on and not before `until`; FREE where there are too many choices of
 * crews to try, or not all are listed: whoever may be in the crew of one phase does it sooner than any crew, and so may
 * miss what a slower one just meets. Each choice is exact: its start says where every phase is, later starts never end
 * earlier, so the least start that every phase can do is found by bisection. It shares nothing with the generator but
 * the calendars, so that it may judge it. O(choices x phases x moves x log minutes).
 */
export function leastFinishAlone(instance: Instance, first: number, last: number, from: number, until: number): number {
  const options: number[][] = [];
  let choices = 1;
  for (let p = first; p <= last; p++) {
    if (last > first && instance.phaseMinutes[p]! > 0 && instance.phaseCutCalendar[p]! >= 0) return FREE;
    const own = calendarsOf(instance, p);
    options.push(own);
    choices *= own.length;
    if (choices > MOST_CHOICES) return FREE;
  }
  let least = Number.POSITIVE_INFINITY;
  for (let choice = 0; choice < choices; choice++) {
    let rest = choice;
    const calendars = options.map((own) => {
      const at = rest % own.length;
      rest = Math.floor(rest / own.length);
      return own[at]!;
    });
    least = Math.min(least, new Chain(instance, first, last, calendars).leastFinish(from, until, least));
  }
  return least;
}

/** The calendars that phase p may go by, each once; -1 for the clock. */
function calendarsOf(instance: Instance, p: number): number[] {
  const { crewRange, crewCalendar, phaseCalendar, phaseCutCalendar, phaseMinutes } = instance;
  if (phaseMinutes[p] === 0) return [-1];
  if (phaseCutCalendar[p]! >= 0) return [phaseCutCalendar[p]!];
  const crews = crewCalendar.subarray(crewRange[2 * p]!, crewRange[2 * p + 1]!);
  return crews.length > 0 ? [...new Set(crews)] : [phaseCalendar[p]!];
}

/** One choice of calendars: where the phases lie follows from the start alone. */
class Chain {
  /** The instant before which the phase before the one that did not fit must not end. */
  private needed = FREE;

  constructor(
    private readonly instance: Instance,
    private readonly first: number,
    private readonly last: number,
    private readonly calendars: readonly number[],
  ) {}

  /** The least finish; or `enough`, or more, where it is not below that. */
  leastFinish(from: number, until: number, enough: number): number {
    let start = from;
    let finish = from;
    for (let moves = 0; moves < MOST_MOVES; moves++) {
      const stopped = this.firstUnfit(start);
      finish = this.finishOf(start, stopped < 0 ? this.last : stopped - 1);
      if (finish >= enough) return enough;
      if (stopped < 0 && finish >= until) return finish;
      start = this.leastStart(start, stopped < 0 ? until : this.needed, stopped < 0 ? this.last : stopped - 1);
    }
    return finish;
  }

  /**
   * The first phase that cannot follow the one before it when the first begins at `start` or as soon as it can; -1 for
   * none.
   */
  private firstUnfit(start: number): number {
    let at = start;
    for (let p = this.first; p <= this.last; p++) {
      if (p > this.first) {
        this.needed = this.previousEnd(p, at);
        if (this.needed > at) return p;
      }
      at = this.endOf(p, at);
    }
    return -1;
  }

  /** Where the phase before p must end, at or after `at`, so that p can follow it. */
  private previousEnd(p: number, at: number): number {
    const { calendars, phaseKind, phaseOneGo, phaseMinutes } = this.instance;
    const calendar = this.calendars[p - this.first]!;
    const minutes = phaseMinutes[p]!;
    if (calendar < 0 || phaseKind[p] === LEAD) return at;
    if (phaseKind[p] !== HANDS) return calendars.stretch(calendar, at, minutes);
    if (phaseOneGo[p] === 0) return at;
    const begins = calendars.stretch(calendar, at, minutes);
    if (begins === calendars.nextOpen(calendar, at)) return at;
    const before = calendars.worked(calendar, begins);
    return Math.max(at, before > 0 ? calendars.endOf(calendar, before) : at);
  }

  /** The finish of phases up to `upTo` when the first begins at `start` or as soon as it can. Rises with the start. */
  private finishOf(start: number, upTo: number): number {
    let at = start;
    for (let p = this.first; p <= upTo; p++) at = this.endOf(p, at);
    return at;
  }

  private endOf(p: number, at: number): number {
    const { calendars, leads, phaseKind, phaseMinutes, phaseOneGo, phaseTable } = this.instance;
    const minutes = phaseMinutes[p]!;
    const calendar = this.calendars[p - this.first]!;
    if (phaseKind[p] === LEAD) return leads.finish(phaseTable[p]!, at) + minutes;
    if (calendar < 0) return at + minutes;
    const unbroken = phaseKind[p] === RUN || phaseKind[p] !== HANDS || phaseOneGo[p] === 1;
    return unbroken ? calendars.stretch(calendar, at, minutes) + minutes : calendars.add(calendar, at, minutes);
  }

  /** The least start after `from` with which phase `upTo` ends at `end` or later. */
  private leastStart(from: number, end: number, upTo: number): number {
    let [early, late] = [from, Math.max(from + 1, end)];
    while (late - early > 1) {
      const middle = Math.floor((early + late) / 2);
      if (this.finishOf(middle, upTo) >= end) late = middle;
      else early = middle;
    }
    return late;
  }
}
