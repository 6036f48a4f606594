/**
 * A phone reduced to its connection: a socket that is kept open, with one request on it at a time. A library for
 * requests takes as long for one as the server does for its answer, and would be counted as the server's.
 */
import { connect } from 'node:net';

export interface Phone {
  /**
   * Posts JSON; the text of the answer and how long it took, in milliseconds from the first byte sent to the last one
   * read.
   */
  post(body: string): Promise<{ text: string; took: number }>;
  hangUp(): void;
}

/**
 * Connects to a server on this machine; a connection that breaks, or an answer other than 200, rejects what is under
 * way.
 */
export function phone(port: number, path: string, cookie: string): Promise<Phone> {
  const socket = connect({ host: '127.0.0.1', port, noDelay: true });
  const head = [`POST ${path} HTTP/1.1`, `host: 127.0.0.1:${port}`, 'accept: application/json', `cookie: ${cookie}`]
    .concat('content-type: application/json', 'content-length: ')
    .join('\r\n');
  let read = '';
  let came: (text: string) => void = () => undefined;
  let broke: (error: Error) => void = () => undefined;
  socket.setEncoding('latin1');
  socket.on('data', (chunk: string) => {
    read += chunk;
    const [start, end] = boundsOf(read);
    if (end === null || read.length < end) return;
    const [answer, text] = [read, Buffer.from(read.slice(start, end), 'latin1').toString()];
    read = '';
    if (answer.startsWith('HTTP/1.1 200 ')) came(text);
    else broke(new Error(answer));
  });
  socket.on('close', () => broke(new Error('the server hung up')));
  const post = (body: string) =>
    new Promise<{ text: string; took: number }>((resolve, reject) => {
      const sent = `${head}${Buffer.byteLength(body)}\r\n\r\n${body}`;
      const began = performance.now();
      came = (text) => resolve({ text, took: performance.now() - began });
      broke = reject;
      socket.write(sent);
    });
  return new Promise((resolve, reject) => {
    socket.once('error', reject);
    socket.once('connect', () => resolve({ post, hangUp: () => socket.destroy() }));
  });
}

/** Where the body of an answer begins and ends; null while its head is not there yet. */
function boundsOf(answer: string): [number, number | null] {
  const start = answer.indexOf('\r\n\r\n') + 4;
  const length = /^content-length: (\d+)/im.exec(answer)?.[1];
  return start < 4 || length === undefined ? [0, null] : [start, start + Number(length)];
}
