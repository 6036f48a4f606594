/** Hours of the week as people read them, from the text in which they are typed and kept. */
import { texts } from '../texts/index.ts';

const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];

/**
 * Hours in words; what is in words already stays so, and so does what nobody could read.
 *
 *     hoursInWords('mon-fri 18-22; sat 9-13 14-18') // 'Mon to Fri 18:00 to 22:00; Sat 09:00 to 13:00, 14:00 to 18:00'
 */
export function hoursInWords(text: string): string {
  return text
    .split(';')
    .map((part) => partInWords(part.trim()))
    .filter((part) => part !== '')
    .join('; ');
}

function partInWords(part: string): string {
  const tokens = part
    .replace(/\s+(?:to|until)\s+|\s*[-–—]\s*/gi, '-')
    .split(/[\s,]+/)
    .filter((token) => token !== '');
  const firstSpan = tokens.findIndex((token) => /^\d/.test(token));
  const at = firstSpan < 0 ? tokens.length : firstSpan;
  const [days, spans] = [tokens.slice(0, at), tokens.slice(at)];
  return [days.map(daysInWords).join(', '), spans.map(spanInWords).join(', ')].filter((it) => it !== '').join(' ');
}

function daysInWords(token: string): string {
  const { said } = texts.hands;
  const word = token.toLowerCase();
  if (Object.hasOwn(said, word)) return said[word as keyof typeof said];
  const [first, last, more] = word.split('-').map(nameOfDay);
  if (first === undefined || first === null || last === null || more !== undefined) return token;
  return last === undefined ? first : texts.hands.from(first, last);
}

/** Null for what is no day. */
function nameOfDay(word: string): string | null {
  return texts.weekdays[DAYS.findIndex((day) => word.startsWith(day))] ?? null;
}

function spanInWords(token: string): string {
  const [, from, to] = /^(\d{1,2}(?::\d\d)?)-(\d{1,2}(?::\d\d)?)$/.exec(token) ?? [];
  return from === undefined || to === undefined ? token : texts.hands.from(clockTime(from), clockTime(to));
}

/** `9` and `09` are `09:00`. */
function clockTime(text: string): string {
  return (text.includes(':') ? text : `${text}:00`).padStart(5, '0');
}
