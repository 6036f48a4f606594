/**
 * What a view needs to know of time: how an instant reads on the wall where the event is. The web room makes one for
 * each zone; views do no arithmetic on dates of their own.
 */

interface WallReading {
  /** YYYY-MM-DD */
  readonly date: string;
  readonly year: number;
  /** 1 to 12 */
  readonly month: number;
  readonly day: number;
  /** Monday 1 to Sunday 7 */
  readonly weekday: number;
  /** HH:MM */
  readonly time: string;
}

/** A day and the instants (minutes since the epoch) that bound it and its night. */
export interface WallDay {
  readonly date: string;
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly weekday: number;
  readonly start: number;
  readonly end: number;
  /** When its night ends and the next begins: 06:00 and 22:00. */
  readonly morning: number;
  readonly evening: number;
}

export interface WallClock {
  readonly zone: string;
  read(instant: number): WallReading;
  /** The days that [from, to) touches, in order. */
  days(from: number, to: number): readonly WallDay[];
  /** Calendar days from the day of `from` to the day of `to`; negative when earlier. */
  daysApart(from: number, to: number): number;
}
