/**
 * What the server knows of its own door when it starts: the maker's key, a link for this start, the addresses for
 * phones.
 */
import { networkInterfaces } from 'node:os';
import type { AccessStore, KeyStore } from '../store/index.ts';
import type { WaysIn } from './routes/access.ts';
import { hashKey, hashOf, newKey, readTyped } from './secrets.ts';

interface EntranceOptions {
  readonly store: AccessStore;
  readonly keys: KeyStore;
  readonly nowMs: () => number;
  /** Address that is listened on. */
  readonly host: string;
  readonly secure: boolean;
  /** Names besides those of the machine by which the server may be called. */
  readonly names: readonly string[];
  /** Asks for the key even where only this laptop can reach the server. */
  readonly askKey: boolean;
  /** Certificate to hand to phones, as PEM. */
  readonly certificate: string | null;
  /** Makes a new key in place of the old one and ends all of the maker's sessions. */
  readonly renewKey?: boolean;
  readonly show?: WaysIn['show'];
}

export interface Entrance {
  /** For the routes; the port is known once the server listens. */
  ways(port: () => number): WaysIn;
  /** The maker's key, in clear, only when it was made just now: to be shown once and never kept. */
  readonly newKey: string | null;
  /** Code of a link that signs the maker in once. */
  readonly startCode: string;
}

/** Makes the maker's key at the first start, and a code for this start. Only their hashes are kept. */
export function openEntrance(options: EntranceOptions): Entrance {
  const { store, keys, nowMs, host, secure } = options;
  const missing = store.makerKeyHash() === null || options.renewKey === true;
  const key = missing ? newKey() : null;
  if (key !== null) store.setMakerKey(hashKey(key), nowMs());
  const startCode = newKey();
  return {
    newKey: key,
    startCode,
    ways: (port) => ({
      store,
      keys,
      nowMs,
      secure,
      names: options.names,
      trustLoopback: isLoopback(host) && !options.askKey,
      startCodeHash: hashOf(readTyped(startCode)),
      addresses: () => phoneAddresses(host, port(), secure),
      certificate: options.certificate,
      ...(options.show === undefined ? {} : { show: options.show }),
    }),
  };
}

/** Whether only this laptop can reach a server that listens there. */
export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127\./.test(host);
}

/** Addresses that a phone on the same network can open; none when the server listens to this laptop alone. */
export function phoneAddresses(host: string, port: number, secure: boolean): string[] {
  if (isLoopback(host)) return [];
  const everywhere = host === '0.0.0.0' || host === '::';
  return (everywhere ? networkAddresses() : [host]).map((address) => addressText(address, port, secure));
}

/** `http://192.168.1.5:4380` */
export function addressText(host: string, port: number, secure: boolean): string {
  return `${secure ? 'https' : 'http'}://${host.includes(':') ? `[${host}]` : host}:${port}`;
}

/** The machine's own IPv4 addresses on networks, those of home networks first. */
export function networkAddresses(): string[] {
  const all = Object.values(networkInterfaces()).flatMap((list) => list ?? []);
  const outside = all.filter((one) => one.family === 'IPv4' && !one.internal).map((one) => one.address);
  const isHome = (address: string): number => (/^(192\.168\.|10\.|172\.(1[6-9]|2\d|3[01])\.)/.test(address) ? 0 : 1);
  return outside.sort((a, b) => isHome(a) - isHome(b));
}
