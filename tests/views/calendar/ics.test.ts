// RFC 5545: 3.1 content lines (75 octets, CRLF), 3.3.11 text. The reader, ical.js, is lenient: bytes are looked at too.
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { type CalendarEvent, calendarText } from '../../../views/calendar/ics.ts';

const utc = wallClock('UTC');
const at = (instant: string) => Date.parse(instant) / 60_000;
const event = (more: Partial<CalendarEvent>): CalendarEvent => ({
  uid: 'one@daywright',
  start: at('2026-10-24T20:00Z'),
  end: null,
  summary: 'Something',
  description: '',
  alarmMinutes: null,
  ...more,
});
const textOf = (...events: readonly CalendarEvent[]) =>
  [...calendarText({ name: 'Tide Wall', stamp: at('2026-10-01T12:34Z'), utc, events })].join('');
const read = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));

const octets = new TextEncoder();
/** What the standard asks of any file, in bytes. */
function bytesAreRight(text: string): void {
  const bytes = octets.encode(text);
  for (const [i, byte] of bytes.entries()) {
    if (byte === 0x0a) expect(bytes[i - 1]).toBe(0x0d);
    if (byte === 0x0d) expect(bytes[i + 1]).toBe(0x0a);
  }
  expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
  for (const line of text.split('\r\n')) {
    expect(octets.encode(line).length).toBeLessThanOrEqual(75);
    expect(line).not.toContain('\ufffd');
  }
}

describe('a calendar file', () => {
  it('folds the vector of umlauts and dashes at 75 octets, not within a character', () => {
    // Vector recomputed with ical.js 2.2.1: 75 octets (70 characters), then 47 that begin with the blank.
    const summary =
      'Größe prüfen – 96 Dreiecke lackieren, zweite Schicht nach 4 h; Löcher Ø6 mm nachbohren – Überprüfung';
    const text = textOf(event({ summary, end: at('2026-10-25T06:00Z') }));
    const lines = text.split('\r\n');
    const first = lines.findIndex((line) => line.startsWith('SUMMARY:'));
    const [one, two] = [lines[first]!, lines[first + 1]!];
    expect([octets.encode(one).length, one.length, one.endsWith('nach 4 h')]).toEqual([75, 70, true]);
    expect([octets.encode(two).length, two.startsWith(' \\; Löcher')]).toEqual([47, true]);
    bytesAreRight(text);
    const [back] = read(text);
    expect([back?.summary, back?.duration.toString()]).toEqual([summary, 'PT10H']);
  });

  it('has its heading once, and of each event what the standard asks for once', () => {
    const text = textOf(event({}), event({ uid: 'two@daywright', end: at('2026-10-24T21:30Z'), alarmMinutes: 1440 }));
    const lines = text.split('\r\n');
    const times = (start: string) => lines.filter((line) => line.startsWith(start)).length;
    expect([times('VERSION:2.0'), times('PRODID:'), times('BEGIN:VCALENDAR')]).toEqual([1, 1, 1]);
    expect([times('UID:'), times('DTSTAMP:20261001T123400Z'), times('DTSTART:20261024T200000Z')]).toEqual([2, 2, 2]);
    expect([times('DTEND:'), times('TRIGGER:-PT1440M'), times('ACTION:DISPLAY')]).toEqual([1, 1, 1]);
    expect(text).not.toContain('TZID');
    bytesAreRight(text);
  });

  it('says instants in UTC, whatever a clock does that night', () => {
    // Europe/Berlin 2026-10-25, 02:30 twice: 00:30Z and 01:30Z (IANA data 2025b).
    const text = textOf(event({ start: at('2026-10-25T00:30Z') }), event({ uid: 'b', start: at('2026-10-25T01:30Z') }));
    expect(text.match(/DTSTART:.*/g)?.map((line) => line.trim())).toEqual([
      'DTSTART:20261025T003000Z',
      'DTSTART:20261025T013000Z',
    ]);
  });

  it.each([
    ['what is escaped', 'a\\b; c, d\\n "e" \\; \\, : ='],
    ['line breaks', 'one\ntwo\n\nthree\\nfour'],
    ['text from right to left', 'שלום, עולם; مرحبا \u200fابجد'],
    ['emoji of several code points', '👩‍🔧🐟'.repeat(40)],
    ['letters of four octets', '𒀀'.repeat(80)],
    ['a single long word', 'x'.repeat(400)],
    ['colons and what looks like a line of the file', 'END:VEVENT\nBEGIN:VALARM'],
  ])('brings back %s', (_, text) => {
    const file = textOf(event({ summary: text, description: text }));
    bytesAreRight(file);
    const events = read(file);
    expect(events).toHaveLength(1);
    expect([events[0]?.summary, events[0]?.description]).toEqual([text, text]);
  });

  it('leaves out control characters and halves of characters, which no calendar reads', () => {
    const file = textOf(event({ summary: 'a\u0000b\u0007c\r\nd' }));
    expect(read(file)[0]?.summary).toBe('abc\nd');
    expect(textOf(event({ summary: 'a\ud83dz' }))).toContain('SUMMARY:a\ufffdz');
  });

  it('brings back random text of odd characters', () => {
    const odd = ['\\', ';', ',', '\n', ' ', 'ß', '–', '𒀀', '🐟', 'n', ':', '"', 'é', '\u200f'];
    let seed = 7;
    const next = (n: number) => {
      seed = (seed * 48_271) % 2_147_483_647;
      return seed % n;
    };
    for (let run = 0; run < 200; run++) {
      const text = `x${Array.from({ length: next(160) }, () => odd[next(odd.length)]).join('')}`;
      const file = textOf(event({ summary: text }));
      bytesAreRight(file);
      expect(read(file)[0]?.summary).toBe(text);
    }
  });
});
