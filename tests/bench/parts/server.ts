/** The server as it is built, started beside a benchmark, and what is asked of it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { type Agent, request } from 'node:http';

/** What a server says of itself, see `pulse.mjs`: milliseconds and megabytes. */
export interface Pulse {
  readonly hold: number;
  readonly busy: number;
  readonly processor: number;
  readonly rss: number;
  readonly heap: number;
}

export interface Started {
  readonly port: number;
  stop(): Promise<void>;
  /** How long the thread that answers requests was held since this was asked last. */
  pulse(): Promise<Pulse>;
}

/** What `npm start` gives node. */
const STARTED_WITH = (JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: { start: string } }).scripts.start
  .split(' ')
  .slice(1);

const PULSE = new URL('./pulse.mjs', import.meta.url).href;

/** Starts it on a port of its own with this database. */
export function start(file: string): Promise<Started> {
  const options = [
    ...(process.env.BENCH_NODE ?? '').split(' ').filter(Boolean),
    '--import',
    PULSE,
    ...STARTED_WITH,
    '--port',
    '0',
    '--db',
    file,
  ];
  const server: ChildProcess = spawn(process.execPath, options, { stdio: ['ignore', 'pipe', 'inherit', 'ipc'] });
  const pulse = () =>
    new Promise<Pulse>((resolve) => {
      server.once('message', (said) => resolve(said as Pulse));
      server.send('pulse');
    });
  const stop = () =>
    new Promise<void>((resolve) => {
      server.once('exit', () => resolve());
      server.kill('SIGTERM');
    });
  return new Promise((resolve, reject) => {
    server.once('exit', (code) => reject(new Error(`the server ended with ${code}`)));
    let said = '';
    server.stdout?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const port = /is at http:\/\/127\.0\.0\.1:(\d+)/.exec(said)?.[1];
      if (port !== undefined) resolve({ port: Number(port), stop, pulse });
    });
  });
}

/** A page, or with a body an answer to what is posted. */
export function ask(
  port: number,
  path: string,
  agent: Agent,
  body?: string,
  cookie = '',
): Promise<{ status: number; text: string; bytes: Buffer }> {
  return new Promise((resolve, reject) => {
    const headers = {
      accept: body === undefined ? 'text/html' : 'application/json',
      'content-type': 'application/json',
      cookie,
    };
    const method = body === undefined ? 'GET' : 'POST';
    const sent = request({ host: '127.0.0.1', port, path, method, agent, headers }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('end', () => {
        const bytes = Buffer.concat(chunks);
        resolve({ status: response.statusCode ?? 0, text: bytes.toString(), bytes });
      });
    });
    sent.on('error', reject);
    sent.end(body);
  });
}
