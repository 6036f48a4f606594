/** The server as it is built, started beside a benchmark, and what is asked of it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { type Agent, request } from 'node:http';

/** Starts it on a port of its own with this database. */
export function start(file: string): Promise<{ port: number; stop(): Promise<void> }> {
  const server: ChildProcess = spawn(process.execPath, ['dist/server/main.js', '--port', '0', '--db', file], {
    stdio: ['ignore', 'pipe', 'inherit'],
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
      if (port !== undefined) resolve({ port: Number(port), stop });
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
