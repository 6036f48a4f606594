/** Keys, codes and tokens: how they are made, and the hashes by which they are known again. None is stored as it is. */
import { hash as digest, randomBytes, randomInt, scrypt, timingSafeEqual } from 'node:crypto';

/** Digits and letters that cannot be taken for each other (Crockford's base 32). */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const KEY_GROUPS = 5;
const GROUP_LENGTH = 5;
const CODE_LENGTH = 8;

const COST = { N: 32_768, r: 8, p: 1, maxmem: 64 * 1024 * 1024 } as const;
const HASH_BYTES = 32;

/** The maker's key: 125 random bits in five groups, such as `7K2MQ-…`. */
export function newKey(): string {
  return Array.from({ length: KEY_GROUPS }, () => letters(GROUP_LENGTH)).join('-');
}

/** A code to type or scan once: 40 random bits. */
export function newCode(): string {
  return letters(CODE_LENGTH);
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

/** A slow, salted hash (scrypt, RFC 7914) of the maker's key. */
export async function hashKey(key: string): Promise<string> {
  const salt = randomBytes(16);
  const hash = await stretched(key, salt);
  return `scrypt$${COST.N}$${COST.r}$${COST.p}$${salt.toString('base64')}$${hash.toString('base64')}`;
}

/** Whether a typed key is the one of that hash; takes the same time whichever part differs. */
export async function isKey(typed: string, stored: string): Promise<boolean> {
  const [kind, N, r, p, salt, hash] = stored.split('$');
  if (kind !== 'scrypt' || salt === undefined || hash === undefined) return false;
  const wanted = Buffer.from(hash, 'base64');
  const got = await stretched(typed, Buffer.from(salt, 'base64'), { N: Number(N), r: Number(r), p: Number(p) });
  return got.length === wanted.length && timingSafeEqual(got, wanted);
}

function stretched(key: string, salt: Buffer, cost: { N: number; r: number; p: number } = COST): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    scrypt(readTyped(key), salt, HASH_BYTES, { ...cost, maxmem: COST.maxmem }, (error, hash) =>
      error ? reject(error) : resolve(hash),
    );
  });
}

function letters(count: number): string {
  return Array.from({ length: count }, () => ALPHABET[randomInt(ALPHABET.length)]).join('');
}
