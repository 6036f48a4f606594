/**
 * A certificate for phones on the workshop's network. It is signed by an authority of its own that phones are made to
 * trust. The authority's signing key is thrown away as soon as it has signed, so what a phone trusts can never vouch
 * for anything else; when the names change, both are made again.
 */
import { X509Certificate } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { dirname, join } from 'node:path';
import { type Problem, problem, problemTexts, type Result } from '../model/index.ts';
import { networkAddresses } from './entrance.ts';

const say = problemTexts.serving;

export interface Certificate {
  /** Certificate and key of this server, PEM; the chain up to the authority is in `cert`. */
  readonly cert: string;
  readonly key: string;
  /** What phones are made to trust, PEM; null where the certificate was brought from elsewhere. */
  readonly authority: string | null;
}

/**
 * Phones refuse a certificate that is valid for longer than 825 days (the rule of one maker of phones, from memory).
 */
const VALID_DAYS = 800;
/** This many days before its end a new one is made. */
const RENEW_DAYS = 30;
const DAY_MS = 86_400_000;

/** The certificate in a folder, made there when it is missing, ends soon, or lacks one of the names. */
export async function ownCertificate(folder: string, names: readonly string[], nowMs: number): Promise<Certificate> {
  const kept = readKept(folder);
  if (kept !== null && covers(kept.cert, names, nowMs)) return kept;
  const made = await makeCertificate(names, nowMs);
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, FILES.key), made.key, { mode: 0o600 });
  writeFileSync(join(folder, FILES.cert), made.cert);
  writeFileSync(join(folder, FILES.authority), made.authority ?? '');
  return made;
}

/** A certificate and its key from files. */
export function certificateFrom(certFile: string, keyFile: string): Result<Certificate> {
  const problems: Problem[] = [];
  const read = (flag: string, file: string): string => {
    try {
      return readFileSync(file, 'utf8');
    } catch (error) {
      problems.push(problem('shape', flag, file, say.fileUnread(flag, file, (error as Error).message)));
      return '';
    }
  };
  const [cert, key] = [read('--tls-cert', certFile), read('--tls-key', keyFile)];
  if (problems.length === 0 && !isCertificate(cert)) {
    problems.push(problem('shape', '--tls-cert', certFile, say.noCertificate(certFile)));
  }
  if (problems.length === 0 && !key.includes('PRIVATE KEY')) {
    problems.push(problem('shape', '--tls-key', keyFile, say.noKey(keyFile)));
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: { cert, key, authority: null } };
}

/** Where the certificate is: beside the database. */
export function certificateFolder(databaseFile: string): string {
  return join(dirname(databaseFile), 'tls');
}

/** The names and addresses by which phones may call this machine now, and those given. */
export function ownNames(names: readonly string[]): string[] {
  const name = hostname().toLowerCase();
  const local = name.includes('.') ? [name] : [name, `${name}.local`];
  return [
    ...new Set(['localhost', '127.0.0.1', ...local, ...networkAddresses(), ...names.map((one) => one.toLowerCase())]),
  ];
}

const FILES = { key: 'server.key', cert: 'server.crt', authority: 'authority.crt' } as const;

function readKept(folder: string): Certificate | null {
  const paths = Object.values(FILES).map((file) => join(folder, file));
  if (!paths.every(existsSync)) return null;
  const [key, cert, authority] = paths.map((path) => readFileSync(path, 'utf8'));
  return isCertificate(cert!) ? { key: key!, cert: cert!, authority: authority! } : null;
}

function covers(cert: string, names: readonly string[], nowMs: number): boolean {
  const read = new X509Certificate(cert);
  if (Date.parse(read.validTo) < nowMs + RENEW_DAYS * DAY_MS) return false;
  return names.every((name) => (isAddress(name) ? read.checkIP(name) : read.checkHost(name)) !== undefined);
}

async function makeCertificate(names: readonly string[], nowMs: number): Promise<Certificate> {
  // Loaded only when it is needed: it takes longer than all the rest of the start.
  const { generate } = await import('selfsigned');
  // A day early, for phones whose clock is behind.
  const dates = { notBeforeDate: new Date(nowMs - DAY_MS), notAfterDate: new Date(nowMs + VALID_DAYS * DAY_MS) };
  const kind = { keyType: 'ec', curve: 'P-256', algorithm: 'sha256', ...dates } as const;
  const authority = await generate([{ name: 'commonName', value: `Daywright on ${hostname()}` }], {
    ...kind,
    extensions: [
      { name: 'basicConstraints', cA: true, pathLenConstraint: 0, critical: true },
      { name: 'keyUsage', keyCertSign: true, cRLSign: true, critical: true },
    ],
  });
  const server = await generate([{ name: 'commonName', value: names[0] ?? 'localhost' }], {
    ...kind,
    ca: { key: authority.private, cert: authority.cert },
    extensions: [
      { name: 'basicConstraints', cA: false, critical: true },
      { name: 'keyUsage', digitalSignature: true, critical: true },
      { name: 'extKeyUsage', serverAuth: true },
      {
        name: 'subjectAltName',
        altNames: names.map((name) =>
          isAddress(name) ? { type: 7 as const, ip: name } : { type: 2 as const, value: name },
        ),
      },
    ],
  });
  return { cert: `${server.cert.trim()}\n${authority.cert.trim()}\n`, key: server.private, authority: authority.cert };
}

function isAddress(name: string): boolean {
  return /^[\d.]+$/.test(name) || name.includes(':');
}

function isCertificate(text: string): boolean {
  try {
    return new X509Certificate(text).subject !== undefined;
  } catch {
    return false;
  }
}
