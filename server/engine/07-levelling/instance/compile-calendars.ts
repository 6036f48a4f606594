/** The calendars that a compiled work asks about, each with a number; those that are alike have one. */
import { alwaysOpen, calendarFrom, intersectionOf } from '../../calendar/index.ts';
import type { Calendar, Work } from '../../types.ts';
import { Calendars } from './calendars.ts';
import { NEVER } from './codes.ts';

export class SharedCalendars {
  /** Nothing is asked about before `dawn` or after `horizon`, in the time of the work. */
  readonly dawn: number;
  readonly horizon: number;
  private readonly ids = new Map<string, number>();
  private readonly list: Calendar[] = [];
  private readonly byPeople: boolean[] = [];
  private readonly openIds = [new Map<Calendar, number>(), new Map<Calendar, number>()];
  private readonly clippedIds = new Map<string, number>();

  /**
   * `early`: hours that are gone count too, see `firstOpenOf`. `losable`: when days begin that people may lose; null
   * for none.
   */
  constructor(
    private readonly work: Work,
    private readonly mirrored: boolean,
    early: boolean,
    private readonly losable: Int32Array | null = null,
  ) {
    this.dawn = early ? Math.min(dawnOf(work), firstOpenOf(work)) : dawnOf(work);
    this.horizon = horizonOf(work);
  }

  /** All that were asked for, as the generator reads them. */
  compiled(): Calendars {
    const { list, dawn, horizon, losable, byPeople } = this;
    const closing = losable === null ? null : { days: losable, concerns: (k: number) => byPeople[k]! };
    return this.mirrored ? new Calendars(list, -horizon, -dawn) : new Calendars(list, dawn, horizon, closing);
  }

  /** The number of the calendar in which all of these resources are there. */
  shared(resources: readonly number[]): number {
    const key = resources.join('+');
    let id = this.ids.get(key);
    if (id === undefined) {
      const calendars = resources.map((r) => this.work.resources[r]!.open);
      const byPeople = resources.some((r) => this.work.resources[r]!.kind === 'person');
      const open = calendars.length === 0 ? alwaysOpen(this.dawn, this.horizon) : intersectionOf(calendars);
      id = this.numberOf(open, byPeople);
      this.ids.set(key, id);
    }
    return id;
  }

  /** The number of a calendar; `byPeople`: it is closed on the days that people lose. */
  numberOf(open: Calendar, byPeople = true): number {
    const openIds = this.openIds[byPeople ? 1 : 0]!;
    let id = openIds.get(open);
    if (id === undefined) {
      const clipped = this.clipped(open);
      const key = `${this.losable !== null && byPeople} ${clipped.opens.join()} ${clipped.closes.join()}`;
      id = this.clippedIds.get(key) ?? this.list.push(clipped) - 1;
      this.byPeople[id] = byPeople;
      this.clippedIds.set(key, id);
      openIds.set(open, id);
    }
    return id;
  }

  /** Between dawn and horizon, and turned round where time is mirrored. */
  private clipped(open: Calendar): Calendar {
    const intervals: [number, number][] = [];
    for (let i = 0; i < open.opens.length; i++) {
      const opens = Math.max(this.dawn, open.opens[i]!);
      const closes = Math.min(this.horizon, open.closes[i]!);
      if (closes > opens) intervals.push(this.mirrored ? [-closes, -opens] : [opens, closes]);
    }
    return calendarFrom(this.mirrored ? intervals.reverse() : intervals);
  }
}

/** Where the calendars of the work end: nobody plans beyond, and at least the event is within. */
function horizonOf(work: Work): number {
  let horizon = Math.max(work.event, work.now) + 1;
  for (const { open } of work.resources) {
    const last = open.closes[open.closes.length - 1];
    if (last !== undefined && last < NEVER >> 1 && last > horizon) horizon = last;
  }
  return horizon;
}

/**
 * The mirror also looks at hours that are gone: what should have begun before now should have begun when somebody was
 * there.
 */
function firstOpenOf(work: Work): number {
  return work.resources.reduce((first, { open }) => Math.min(first, open.opens[0] ?? first), work.now);
}

/** Where the calendars of the work begin to count: now, or when the oldest lot under way began. */
function dawnOf(work: Work): number {
  let dawn = work.now;
  for (const lot of work.lots) if (lot.begunAt !== null && lot.begunAt < dawn) dawn = lot.begunAt;
  return dawn;
}
