/** Real servers in processes of their own, and phones without a browser that tap at them. */
import { type ChildProcess, fork, spawn } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import type { Build } from '../../server/model/index.ts';
import { createStore, openDatabase } from '../../server/store/index.ts';
import type { SendingAnswer, WireEntry, WireReceipt } from '../../views/client/outbox/count-wire.ts';
import { newId } from '../../views/client/outbox/outbox.ts';

export const BUILD = 'lantern';

const START = fileURLToPath(new URL('./start-standby.mjs', import.meta.url));

/** A database with a small build in it, so that the servers' time goes into counting. */
export function prepare(databaseFile: string): void {
  const db = openDatabase(databaseFile);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const store = createStore(db.value);
  store.builds.create(SMALL, { savedAt: '2026-11-30T09:00:00Z', who: 'maker', cause: { code: 'made' } });
  store.close();
}

const SMALL: Build = {
  id: BUILD,
  name: 'Lantern',
  zone: 'UTC',
  event: '2036-12-20T18:00',
  parts: [{ id: 'ribs', name: 'ribs', source: 'make', count: 4000 }],
  people: [{ id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00' }],
  steps: [
    { id: 'cut', name: 'cut ribs', part: 'ribs', lotSize: 4000, phases: [{ kind: 'hands', perUnit: 1 }] },
    { id: 'glue', name: 'glue ribs', part: 'ribs', lotSize: 4000, phases: [{ kind: 'hands', perUnit: 1 }] },
  ],
};

export interface Server {
  readonly process: ChildProcess;
  /** Ends it as a power cut does, and resolves when it is gone. */
  kill(): Promise<void>;
}

export interface Servers {
  readonly address: string;
  /** Starts a server on the database; resolves when it listens. */
  start(): Promise<Server>;
  /** The same, where no file may grow above so many kilobytes: writing more fails, as on a full disk. */
  startLimited(kilobytes: number): Promise<Server>;
  stop(): Promise<void>;
}

/** Servers on one database and one port, one after the other; the next stands by while the present one serves. */
export async function openServers(databaseFile: string): Promise<Servers> {
  const port = await freePort();
  const program = await bundle();
  let next = standBy(program);
  const begin = async (process: ChildProcess): Promise<Server> => {
    await serving(process, ['--port', String(port), '--db', databaseFile]);
    return { process, kill: () => ended(process) };
  };
  return {
    address: `http://127.0.0.1:${port}`,
    start: async () => {
      const server = await begin(next);
      next = standBy(program);
      return server;
    },
    startLimited: (kilobytes) => begin(standByLimited(program, kilobytes)),
    stop: async () => {
      await ended(next);
      for (const file of [program, `${program}.compiled`]) rmSync(file, { force: true });
    },
  };
}

/** One file of the server and all it is made of, save the parts that are not JavaScript. */
async function bundle(): Promise<string> {
  const outfile = resolve('.cache', 'faults', `standby-${process.pid}.cjs`);
  await build({
    entryPoints: [fileURLToPath(new URL('./standby.mjs', import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    minify: true,
    external: ['better-sqlite3', 'piscina'],
    define: { 'import.meta.url': 'fileUrl' },
    banner: { js: "const fileUrl = require('node:url').pathToFileURL(__filename).href;" },
    logLevel: 'error',
  });
  rmSync(`${outfile}.compiled`, { force: true });
  await build({
    entryPoints: [fileURLToPath(new URL('../../server/store/checkpoint-thread.ts', import.meta.url))],
    outfile: join(dirname(outfile), 'checkpoint-thread.js'),
    bundle: true,
    platform: 'node',
    format: 'esm',
    external: ['better-sqlite3'],
    logLevel: 'error',
  });
  // Where the search would run: a thread that never answers.
  writeFileSync(join(dirname(outfile), 'worker.js'), 'export default () => new Promise(() => {});\n');
  return outfile;
}

function standBy(program: string): ChildProcess {
  return fork(START, [program, 'keep'], { stdio: ['ignore', 'ignore', 'inherit', 'ipc'], execArgv: [] });
}

/** The signal that would end the process at the limit is ignored, so that the write fails instead. */
function standByLimited(program: string, kilobytes: number): ChildProcess {
  const script = `trap '' XFSZ; ulimit -f ${kilobytes}; exec "$0" "$1" "$2"`;
  return spawn('bash', ['-c', script, process.execPath, START, program], {
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
}

function serving(process: ChildProcess, args: readonly string[]): Promise<void> {
  return new Promise((done, reject) => {
    process.once('message', () => done());
    process.once('exit', (code) => reject(new Error(`the server ended with ${code} before it listened`)));
    process.send(args);
  });
}

function ended(process: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    if (process.exitCode !== null || process.signalCode !== null) return resolve();
    process.removeAllListeners('exit');
    process.once('exit', () => resolve());
    process.kill('SIGKILL');
  });
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as { port: number };
      probe.close(() => resolve(port));
    });
  });
}

/** A phone that taps at a step and sends each tap until it is answered; the network's failures are the same to it. */
export class Phone {
  readonly sent = new Map<string, WireEntry>();
  readonly acknowledged = new Map<string, WireReceipt>();
  readonly #address: string;
  readonly #step: string;
  #going = true;
  #loop: Promise<void> | null = null;

  constructor(address: string, step: string) {
    this.#address = address;
    this.#step = step;
  }

  start(): void {
    this.#loop = this.#tapOn();
  }

  /** Taps no more; resolves when the last tap has been answered. */
  async finish(): Promise<void> {
    this.#going = false;
    await this.#loop;
  }

  async #tapOn(): Promise<void> {
    while (this.#going) {
      const entry: WireEntry = { id: newId(), kind: 'done', step: this.#step, n: 1, at: new Date().toISOString() };
      this.sent.set(entry.id, entry);
      while (!this.acknowledged.has(entry.id)) await this.#send(entry);
    }
  }

  async #send(entry: WireEntry): Promise<void> {
    try {
      const { receipts } = await send(this.#address, [entry]);
      for (const receipt of receipts) {
        if (receipt.state === 'refused') throw new TypeError(receipt.problems[0]?.message);
        this.acknowledged.set(receipt.id, receipt);
      }
    } catch (error) {
      if (error instanceof TypeError && error.message !== 'fetch failed' && error.message !== 'terminated') throw error;
      await new Promise((resolve) => setTimeout(resolve, 15));
    }
  }
}

/** Sends entries once. Throws where no whole answer came, and where it was no answer of success. */
export async function send(address: string, entries: readonly WireEntry[]): Promise<SendingAnswer> {
  const response = await fetch(`${address}/b/${BUILD}/entries`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', accept: 'application/json' },
    body: JSON.stringify({ entries, last: null }),
  });
  if (!response.ok) throw new Error(`${response.status}: ${await response.text()}`);
  return (await response.json()) as SendingAnswer;
}
