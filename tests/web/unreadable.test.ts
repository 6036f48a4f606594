import { connect } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/web/app.ts';
import { bareHeaders } from '../../server/web/headers.ts';
import { BUILD, type CountApp, countApp } from '../support/count-app.ts';
import { FAKE_NOW } from '../support/fake-forecast.ts';

let bench: CountApp;
afterEach(() => bench.close());

const FILE_HEAD = 'content-disposition: form-data; name="file"; filename="a.json"\r\n';
const DEEP = `${'['.repeat(60_000)}${']'.repeat(60_000)}`;

async function post(url: string, type: string, payload: string) {
  return bench.app.inject({
    method: 'POST',
    url,
    headers: { cookie: bench.makerCookie(), 'content-type': type, accept: 'application/json' },
    payload,
  });
}

/** What the server writes to a socket for bytes that no client would send. */
async function answerTo(bytes: string): Promise<string> {
  await bench.app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = bench.app.server.address() as { port: number };
  return new Promise((resolve) => {
    let text = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(bytes));
    socket.on('data', (data) => {
      text += data.toString('latin1');
    });
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(text));
  });
}

describe('an upload', () => {
  it.each([
    ['that ends early', `--b\r\n${FILE_HEAD}\r\n{"format": "day`],
    ['that ends inside a head', `--b\r\ncontent-disposition: form-data; na`],
    ['that is empty', ''],
    [
      'that nests an empty part',
      `--b\r\n${FILE_HEAD}content-type: multipart/mixed; boundary=c\r\n\r\n--c--\r\n--b\r\n--b--`,
    ],
    ['whose part has no head', `--b\r\n\r\n${'x'.repeat(70_000)}\r\n--b--\r\n`],
    ['whose head does not end', `--b\r\n${'a: b\r\n'.repeat(100_000)}\r\n--b--\r\n`],
    ['of a hundred thousand parts', `${`--b\r\n${FILE_HEAD}\r\n\r\n`.repeat(100_000)}--b--\r\n`],
  ])('%s is answered with 400 and a sentence', async (_, payload) => {
    bench = await countApp();
    const answer = await post('/builds/file', 'multipart/form-data; boundary=b', payload);
    expect(answer.statusCode).toBe(400);
    expect(answer.json()).toEqual({ problem: expect.stringMatching(/Only part of the file arrived/) });
  });

  it('that is whole is read', async () => {
    bench = await countApp();
    const answer = await post(
      '/builds/file',
      'multipart/form-data; boundary=b',
      `--b\r\n${FILE_HEAD}\r\n{}\r\n--b--\r\n`,
    );
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('&quot;format&quot; must be');
  });

  it('that ends early leaves one line in the log, and no stack', async () => {
    bench = await countApp();
    const lines: string[] = [];
    const app = await buildApp({ planner: bench.planner, now: () => FAKE_NOW, report: (line) => lines.push(line) });
    const headers = { 'content-type': 'multipart/form-data; boundary=b' };
    await app.inject({ method: 'POST', url: '/builds/file', headers, payload: `--b\r\n${FILE_HEAD}\r\n{"format"` });
    expect(lines).toEqual([expect.stringMatching(/^400 POST \/builds\/file: Only part of the file arrived/)]);
    await app.close();
  });
});

describe('JSON nested beyond reason', () => {
  it.each([
    ['as a value of a form', `/b/${BUILD}/steps?open=steps/press`, `{"edit": "1", "name": ${DEEP}}`],
    ['as an entry', `/b/${BUILD}/entries`, `{"entries": [${DEEP}]}`],
    ['as a value of an entry', `/b/${BUILD}/entries`, `{"entries": [{"id": "deep-one-x", "kind": ${DEEP}}]}`],
    ['as a name', '/builds', `{"name": ${DEEP}}`],
  ])('%s is refused with 400 and a sentence', async (_, url, payload) => {
    bench = await countApp();
    const answer = await post(url, 'application/json', payload);
    expect(answer.statusCode).toBe(400);
    expect(answer.json()).toEqual({ problem: expect.stringMatching(/nested more than 32 deep/) });
  });

  it('is no JSON nested beyond reason when its brackets stand in a text', async () => {
    bench = await countApp();
    const payload = JSON.stringify({ entries: [{ id: 'bracket-1', note: '["'.repeat(90) }] });
    const answer = await post(`/b/${BUILD}/entries`, 'application/json', payload);
    expect(answer.statusCode).toBe(200);
  });
});

describe('what reaches no route', () => {
  it.each([
    ['an address that is no text', '/b/%ff%fe', 400, /character in it/],
    ['an address with half a code', '/%', 400, /character in it/],
    ['a name longer than any', `/b/${'x'.repeat(201)}`, 414, /more than 200 characters/],
  ])('%s has the headers of a page, and says what is wrong', async (_, url, status, said) => {
    bench = await countApp();
    const page = await bench.app.inject({ url: `/b/${BUILD}`, headers: { cookie: bench.makerCookie() } });
    const policy = Object.keys(bareHeaders(false));
    for (const accept of ['text/html', '*/*']) {
      const answer = await bench.app.inject({ url, headers: { accept } });
      expect(answer.statusCode).toBe(status);
      expect(answer.body).toMatch(said);
      for (const name of policy) expect([name, answer.headers[name]]).toEqual([name, page.headers[name]]);
      expect(answer.headers['cache-control']).toBe('no-store');
    }
  });

  it('bytes that are no request get an answer with the headers', async () => {
    bench = await countApp();
    const answer = await answerTo('NONSENSE\r\n\r\n');
    expect(answer).toMatch(/^HTTP\/1\.1 400 Bad Request\r\n/);
    for (const [name, value] of Object.entries(bareHeaders(false))) expect(answer).toContain(`${name}: ${value}\r\n`);
    expect(answer).toMatch(/"problem":"That was not a request/);
  });

  it.each(['//elsewhere.example/', '/\\\\elsewhere.example/', '/\\elsewhere.example/'])(
    'an address that a browser would take for another machine leads nowhere: %s',
    async (path) => {
      bench = await countApp();
      const answer = await answerTo(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n`);
      expect(answer).toMatch(/^HTTP\/1\.1 4\d\d /);
      expect(answer).not.toMatch(/\nlocation:/i);
    },
  );

  it.each([[false], [true]])('has the headers that a page has, over TLS too (%s)', async (secure) => {
    bench = await countApp();
    const app = await buildApp({ planner: bench.planner, now: () => FAKE_NOW, secure });
    const page = await app.inject({ url: `/b/${BUILD}` });
    expect(page.headers).toMatchObject(bareHeaders(secure));
    await app.close();
  });
});

describe('the manifest of the Count page', () => {
  it('is asked for again each time, since the name of a build may change', async () => {
    bench = await countApp();
    const url = `/b/${BUILD}/count.webmanifest`;
    const answer = await bench.app.inject({ url, headers: { cookie: bench.makerCookie() } });
    expect(answer.headers['cache-control']).toBe('no-cache');
  });
});
