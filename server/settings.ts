/** What the maker chooses when starting: flags, then the environment, then what is usual. */
import { parseArgs } from 'node:util';
import { type Problem, problem, problemTexts, problemWords, type Result } from './model/index.ts';

const say = problemTexts.serving;

/** How pages are served: plainly, with a certificate made here, or with one from files. */
type Tls =
  | { readonly kind: 'off' }
  | { readonly kind: 'self-made' }
  | { readonly kind: 'files'; readonly cert: string; readonly key: string };

export interface Settings {
  readonly port: number;
  readonly host: string;
  readonly databaseFile: string;
  readonly tls: Tls;
  /** Names besides the machine's own by which browsers may call it. */
  readonly names: readonly string[];
  /** Asks for the maker's key even where only this machine can reach the pages. */
  readonly askKey: boolean;
  /** Makes a new maker's key in place of the old one. */
  readonly newKey: boolean;
  readonly help: boolean;
}

export type Environment = Readonly<Record<string, string | undefined>>;

const DEFAULT_PORT = 4380;
const DEFAULT_HOST = '127.0.0.1';
const EVERYWHERE = '0.0.0.0';
const DEFAULT_DATABASE = 'data/daywright.sqlite';

/** What the server can be told when it is started. */
export function serverHelp(): string {
  return problemWords.serving.help(DEFAULT_PORT, DEFAULT_HOST, DEFAULT_DATABASE);
}

/**
 * The settings of the server, or what was wrong with them. Flags win over the environment.
 *
 * @example readSettings(['--port', '8080'], {}) has port 8080 and the usual rest
 */
export function readSettings(args: readonly string[], env: Environment): Result<Settings> {
  const flags = readFlags(args);
  if (!flags.ok) return flags;
  const { port, host, lan, db, help, tls, 'tls-cert': cert, 'tls-key': key } = flags.value;
  const problems: Problem[] = [];
  const portText = port ?? env.PORT ?? String(DEFAULT_PORT);
  const portNumber = /^\d{1,5}$/.test(portText) ? Number(portText) : Number.NaN;
  if (!(portNumber <= 65_535)) {
    const field = port === undefined ? 'PORT' : '--port';
    problems.push(problem('shape', field, portText, say.wrongPort(field, portText)));
  }
  if ((cert === undefined) !== (key === undefined)) {
    const [has, lacks] = cert === undefined ? ['--tls-key', '--tls-cert'] : ['--tls-cert', '--tls-key'];
    problems.push(problem('shape', lacks, 'nothing', say.needsBeside(has, lacks)));
  }
  if (lan === true && host !== undefined) {
    problems.push(problem('shape', '--lan', host, say.sameTwice));
  }
  if (problems.length > 0) return { ok: false, problems };
  return {
    ok: true,
    value: {
      port: portNumber,
      host: lan === true ? EVERYWHERE : (host ?? env.DAYWRIGHT_HOST ?? DEFAULT_HOST),
      databaseFile: databaseFileOf(db, env),
      tls: tlsOf(tls ?? false, cert, key),
      names: flags.value.name ?? [],
      askKey: flags.value['ask-key'] ?? false,
      newKey: flags.value['new-key'] ?? false,
      help: help ?? false,
    },
  };
}

/** The database file by flag or environment, the same for the server and the command line. */
export function databaseFileOf(flag: string | undefined, env: Environment): string {
  return flag ?? env.DAYWRIGHT_DB ?? DEFAULT_DATABASE;
}

const FLAGS = {
  port: { type: 'string' },
  host: { type: 'string' },
  lan: { type: 'boolean' },
  name: { type: 'string', multiple: true },
  'ask-key': { type: 'boolean' },
  'new-key': { type: 'boolean' },
  db: { type: 'string' },
  help: { type: 'boolean', short: 'h' },
  tls: { type: 'boolean' },
  'tls-cert': { type: 'string' },
  'tls-key': { type: 'string' },
} as const;

type Flags = ReturnType<typeof parseArgs<{ options: typeof FLAGS }>>['values'];

function readFlags(args: readonly string[]): Result<Flags> {
  try {
    return { ok: true, value: parseArgs({ args: [...args], options: FLAGS }).values };
  } catch (error) {
    const message = say.wrongFlags((error as Error).message.split('.')[0]!);
    return { ok: false, problems: [problem('shape', 'flags', args.join(' '), message)] };
  }
}

function tlsOf(selfMade: boolean, cert: string | undefined, key: string | undefined): Tls {
  if (cert !== undefined && key !== undefined) return { kind: 'files', cert, key };
  return { kind: selfMade ? 'self-made' : 'off' };
}
