import { createServer, type IncomingMessage, request, type Server, type ServerResponse } from 'node:http';
import { afterEach, describe, expect, it } from 'vitest';
import { BUILD } from '../support/count-app.ts';
import {
  arrived,
  openTicket,
  openWorkshop,
  phone,
  ready,
  reloadAway,
  serve,
  shows,
  tapMany,
} from '../support/count-phone.ts';

openWorkshop();

const roads: Server[] = [];
afterEach(() => {
  for (const road of roads.splice(0)) road.close().closeAllConnections();
});

describe('the copy of the page', () => {
  it('stays whole when the network goes while a new version of Daywright comes over it', async () => {
    const { bench, port } = await serve();
    const road = await roadTo(port);
    const { page } = await phone(bench, road.url);
    await page.getByText('also opens without a network').waitFor();

    road.change({ passes: /^\/b\/|\.css$|woff2$/, renamed: true });
    await reloadAway(page);
    road.change({ passes: null, renamed: true });
    await reloadAway(page);
    await ready(page);
    await openTicket(page, 'press');
    await tapMany(page, 2);
    await shows(page, 'press', 14);

    road.change({ passes: /./, renamed: true });
    await reloadAway(page);
    await ready(page);
    await arrived(page);
    expect(bench.done('press')).toBe(2);
    await page.getByText('also opens without a network').waitFor();
    road.change({ passes: null, renamed: true });
    await reloadAway(page);
    await ready(page);
    expect(await page.evaluate(async () => (await fetch('/assets/count.js')).text())).toContain('tickets-anew');
  });

  it('is not half an old and half a new one when the laptop is back while the page opens', async () => {
    const { bench, port } = await serve();
    const road = await roadTo(port);
    const { page } = await phone(bench, road.url);
    await page.getByText('also opens without a network').waitFor();
    // The page itself finds nobody; its script would find the new version.
    road.change({ passes: /count\.js$/, renamed: true });
    await reloadAway(page);
    await ready(page);
    road.change({ passes: /./, renamed: true });
    await openTicket(page, 'press');
    await tapMany(page, 1);
    await arrived(page);
    expect(bench.done('press')).toBe(1);
  });
});

interface Road {
  /** What goes through; null: nothing. */
  readonly passes: RegExp | null;
  /** A later version: a page and a script that only fit each other. */
  readonly renamed: boolean;
}

/** A way to a server that can be cut, and that can make the server look like a later version of itself. */
async function roadTo(port: number) {
  let now: Road = { passes: /./, renamed: false };
  const carry = (asked: IncomingMessage, answer: ServerResponse): void => {
    const path = asked.url!;
    if (now.passes === null || !now.passes.test(path)) return void asked.socket.destroy();
    const { 'if-none-match': _, 'if-modified-since': __, 'accept-encoding': ___, ...headers } = asked.headers;
    const onward = request({ port, host: '127.0.0.1', path, method: asked.method, headers }, (got) => {
      const parts: Buffer[] = [];
      got.on('data', (part: Buffer) => parts.push(part));
      got.on('end', () => {
        const whole = Buffer.concat(parts);
        const isTurned = now.renamed && /count(\.js)?$/.test(path);
        const body = isTurned ? Buffer.from(whole.toString().replaceAll('"tickets"', '"tickets-anew"')) : whole;
        const { etag: _tag, 'content-length': _length, 'transfer-encoding': _how, ...rest } = got.headers;
        answer.writeHead(got.statusCode!, { ...rest, 'content-length': body.length }).end(body);
      });
    });
    onward.on('error', () => asked.socket.destroy());
    asked.pipe(onward);
  };
  const road = createServer(carry);
  roads.push(road);
  await new Promise<void>((resolve) => road.listen(0, '127.0.0.1', resolve));
  const { port: own } = road.address() as { port: number };
  return {
    url: `http://localhost:${own}/b/${BUILD}/count`,
    change: (next: Road) => {
      now = next;
    },
  };
}
