/** Keys, codes and tokens: how they are made, and the hashes by which they are known again. None is stored as it is. */
import { hash as digest, randomBytes, randomInt, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';
import { promisify } from 'node:util';

/** Digits and letters that cannot be taken for each other (Crockford's base 32). */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const KEY_GROUPS = 5;
const GROUP_LENGTH = 5;

/** What keys made by an older Daywright were stretched with. */
const OLD_MEMORY = 64 * 1024 * 1024;

/** The maker's key: 125 random bits in five groups, such as `7K2MQ-…`. */
export function newKey(): string {
  return Array.from({ length: KEY_GROUPS }, () => letters(GROUP_LENGTH)).join('-');
}

/**
 * A code to type or scan once: 50 random bits in two groups, such as `7K2MQ-04XTB`.
 *
 * No number of wrong tries keeps a right code out, so that nobody can lock a helper out by guessing; what keeps guesses
 * out is the length. A laptop answers fewer than 10,000 tries a second: 9 million in the 15 minutes that a code is good
 * for. With ten codes open all that time, one of these guesses hits with a chance of 10 × 9e6 / 2^50, 1 in 12 million
 * (with 40 bits it would be 1 in 12,000).
 */
export function newCode(): string {
  return `${letters(GROUP_LENGTH)}-${letters(GROUP_LENGTH)}`;
}

/** A session's token: 256 random bits, safe in a cookie. */
export function newToken(): string {
  return randomBytes(32).toString('base64url');
}

/** A code or a key as it was meant: small letters, blanks, hyphens and look-alikes do not matter. */
export function readTyped(typed: string): string {
  return typed.toUpperCase().replace(/[\s-]/g, '').replace(/O/g, '0').replace(/[IL]/g, '1');
}

/** The hash of a code or token; these are random enough that a fast one will do. */
export function hashOf(secret: string): string {
  return digest('sha256', secret, 'hex');
}

/**
 * The hash of the maker's key, as it is kept. A fast one: of 2^125 keys none is found by trying, however fast, and a
 * slow one would let anybody who sends wrong keys take the time of the laptop from the maker.
 */
export function hashKey(key: string): string {
  return `sha256$${hashOf(readTyped(key))}`;
}

/** Whether a typed key is the one of that hash; takes the same time whichever part differs. */
export async function isKey(typed: string, stored: string): Promise<boolean> {
  return isOldHash(stored) ? isOldKey(typed, stored) : isSame(Buffer.from(hashKey(typed)), Buffer.from(stored));
}

/** A hash that an older Daywright made: salted and stretched (scrypt, RFC 7914). */
export function isOldHash(stored: string): boolean {
  return stored.startsWith('scrypt$');
}

async function isOldKey(typed: string, stored: string): Promise<boolean> {
  const [, N, r, p, salt = '', hash = ''] = stored.split('$');
  const wanted = Buffer.from(hash, 'base64');
  const cost = { N: Number(N), r: Number(r), p: Number(p), maxmem: OLD_MEMORY };
  const got = await stretched(readTyped(typed), Buffer.from(salt, 'base64'), wanted.length, cost);
  return isSame(got, wanted);
}

const stretched = promisify(scrypt) as (
  key: string,
  salt: Buffer,
  bytes: number,
  cost: ScryptOptions,
) => Promise<Buffer>;

function isSame(one: Buffer, other: Buffer): boolean {
  return one.length === other.length && timingSafeEqual(one, other);
}

function letters(count: number): string {
  return Array.from({ length: count }, () => ALPHABET[randomInt(ALPHABET.length)]).join('');
}
