/**
 * Events as an iCalendar file (RFC 5545): UTC instants, so that no zone has to be described; CRLF; lines of at most 75
 * octets, folded between characters; text escaped.
 */
import type { WallClock } from '../wall-clock.ts';

export interface CalendarEvent {
  /** The same for the same thing in each export, and for nothing else in the file. */
  readonly uid: string;
  /** Minutes since the epoch. */
  readonly start: number;
  /** After `start`; null: an instant. */
  readonly end: number | null;
  readonly summary: string;
  /** Empty: none. */
  readonly description: string;
  /** Minutes before the start at which it rings; null: it does not. */
  readonly alarmMinutes: number | null;
  /** How often it has changed, and when it did last, in minutes since the epoch; left out: never yet, and just now. */
  readonly changed?: { readonly sequence: number; readonly stamp: number };
}

interface CalendarFile {
  readonly name: string;
  /** When the plan was worked out, minutes since the epoch. */
  readonly stamp: number;
  /** The clock of UTC. */
  readonly utc: WallClock;
  readonly events: readonly CalendarEvent[];
}

const LONGEST_LINE_OCTETS = 75;

/** The whole file, some events at a time. Linear in its length. */
export function* calendarText({ name, stamp, utc, events }: CalendarFile): Generator<string> {
  const head = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Daywright//Calendar//EN',
    'CALSCALE:GREGORIAN',
    `NAME:${escaped(name)}`,
    `X-WR-CALNAME:${escaped(name)}`,
    'REFRESH-INTERVAL;VALUE=DURATION:PT1H',
  ];
  yield textOf(head);
  for (let first = 0; first < events.length; first += AT_ONCE) {
    yield textOf(events.slice(first, first + AT_ONCE).flatMap((event) => eventLines(event, stamp, utc)));
  }
  yield textOf(['END:VCALENDAR']);
}

const AT_ONCE = 100;

function textOf(lines: readonly string[]): string {
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}

function eventLines(event: CalendarEvent, now: number, utc: WallClock): string[] {
  const { uid, start, end, summary, description, alarmMinutes } = event;
  const { sequence, stamp } = event.changed ?? { sequence: 0, stamp: now };
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(uid)}`,
    `DTSTAMP:${utcText(utc, stamp)}`,
    `SEQUENCE:${sequence}`,
    `DTSTART:${utcText(utc, start)}`,
    ...(end === null ? [] : [`DTEND:${utcText(utc, end)}`]),
    `SUMMARY:${escaped(summary)}`,
    ...(description === '' ? [] : [`DESCRIPTION:${escaped(description)}`]),
    ...(alarmMinutes === null ? [] : alarmLines(alarmMinutes, summary)),
    'END:VEVENT',
  ];
}

function alarmLines(minutes: number, summary: string): string[] {
  return ['BEGIN:VALARM', 'ACTION:DISPLAY', `TRIGGER:-PT${minutes}M`, `DESCRIPTION:${escaped(summary)}`, 'END:VALARM'];
}

function utcText(utc: WallClock, instant: number): string {
  const { date, time } = utc.read(instant);
  return `${date.replaceAll('-', '')}T${time.replace(':', '')}00Z`;
}

/** Text as a value: the backslash first, and no control character but the line break, which is `\n`. */
function escaped(text: string): string {
  return text
    .replace(/\p{Cs}/gu, '\ufffd')
    .replaceAll('\\', '\\\\')
    .replaceAll(';', '\\;')
    .replaceAll(',', '\\,')
    .replace(/\r\n|\r|\n|\u2028|\u2029/g, '\\n')
    .replace(CONTROLS, '');
}

const CONTROLS = /\p{Cc}/gu;
const ASCII = /^[\x20-\x7e]*$/;

/** A content line in physical lines, none longer than 75 octets; the blank that continues counts on its line. */
function folded(line: string): string {
  if (line.length <= LONGEST_LINE_OCTETS && ASCII.test(line)) return line;
  let text = '';
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character.codePointAt(0)!);
    if (octets + size > LONGEST_LINE_OCTETS) {
      text += '\r\n ';
      octets = 1;
    }
    text += character;
    octets += size;
  }
  return text;
}

/** The bytes that a character takes in UTF-8 (RFC 3629). */
function octetsOf(point: number): number {
  if (point < 0x80) return 1;
  return point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
}
