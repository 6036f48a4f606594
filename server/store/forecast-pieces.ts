/**
 * A forecast in pieces of JSON: a large one is read, written and handed from thread to thread piece by piece, so that
 * nobody waits for all of it. Each piece is a part of the forecast, such as `{"lots":[…]}`; a list goes on in the next.
 */
import { gunzipSync, gzipSync } from 'node:zlib';
import type { Forecast } from '../model/index.ts';
import { isTurnOver, othersTurn } from '../turns/turns.ts';

export interface Piece {
  readonly text: string;
  /** The text compressed, where it is to be kept. */
  readonly packed?: Uint8Array;
}

/** Characters of a piece, about: read in a millisecond or two. */
const MOST_CHARACTERS = 64 * 1024;
/** Fields with fewer share a piece. */
const SMALL_CHARACTERS = 8 * 1024;
/** A forecast shrinks to a tenth at the lowest level already. */
const LEVEL = 1;

/** By the value of a field that came in pieces of its own: those pieces, compressed. No value is ever changed. */
const packedBefore = new WeakMap<object, Uint8Array[]>();

/** The forecast in pieces; `packed`: compressed as well. */
export function piecesOf(forecast: Partial<Forecast>, packed = false): Piece[] {
  const small: string[] = [];
  const large: string[] = [];
  for (const [field, value] of Object.entries(forecast)) {
    if (value === undefined) continue;
    const texts = Array.isArray(value) ? listTexts(value) : [JSON.stringify(value)];
    const fields = texts.map((text) => `${JSON.stringify(field)}:${text}`);
    if (texts.length === 1 && texts[0]!.length < SMALL_CHARACTERS) small.push(...fields);
    else large.push(...fields);
  }
  return [small.join(','), ...large].map((fields) => {
    const text = `{${fields}}`;
    return packed ? { text, packed: pack(text) } : { text };
  });
}

/** The pieces of a forecast as they are kept; what came in pieces before is not written again. */
export function packedPieces(forecast: Forecast): Uint8Array[] {
  const known: Uint8Array[] = [];
  const rest: Record<string, unknown> = {};
  for (const [field, value] of Object.entries(forecast)) {
    const before = typeof value === 'object' && value !== null ? packedBefore.get(value) : undefined;
    if (before === undefined) rest[field] = value;
    else known.push(...before);
  }
  return [...piecesOf(rest, true).map(({ packed }) => packed!), ...known];
}

/** The forecast of these pieces, at once. */
export function joined(pieces: readonly Piece[]): Forecast {
  const parts: Record<string, unknown> = {};
  for (const piece of pieces) add(parts, piece);
  return parts as unknown as Forecast;
}

/** The same, with time for others now and then. */
export async function joinedInTurns(pieces: readonly (Piece | Uint8Array)[]): Promise<Forecast> {
  const parts: Record<string, unknown> = {};
  for (const piece of pieces) {
    if (isTurnOver()) await othersTurn();
    add(parts, piece instanceof Uint8Array ? unpacked(piece) : piece);
  }
  return parts as unknown as Forecast;
}

/** A piece as it is kept. */
export function unpacked(packed: Uint8Array): Piece {
  return { text: gunzipSync(packed).toString(), packed };
}

function pack(text: string): Uint8Array {
  return gzipSync(text, { level: LEVEL });
}

function add(parts: Record<string, unknown>, { text, packed }: Piece): void {
  const fields = Object.entries(JSON.parse(text) as Record<string, unknown>);
  for (const [field, value] of fields) {
    const before = parts[field];
    if (Array.isArray(before)) for (const one of value as unknown[]) before.push(one);
    else parts[field] = value;
  }
  const [[only] = []] = fields;
  const whole = only === undefined ? null : parts[only];
  if (packed === undefined || fields.length !== 1 || typeof whole !== 'object' || whole === null) return;
  packedBefore.set(whole, [...(packedBefore.get(whole) ?? []), packed]);
}

/** A list as the JSON of lists that follow each other. */
function listTexts(list: readonly unknown[]): string[] {
  const texts: string[] = [];
  let some: string[] = [];
  let characters = 0;
  for (const one of list) {
    const text = JSON.stringify(one);
    if (characters + text.length > MOST_CHARACTERS && some.length > 0) {
      texts.push(`[${some.join(',')}]`);
      [some, characters] = [[], 0];
    }
    some.push(text);
    characters += text.length;
  }
  return [...texts, `[${some.join(',')}]`];
}
