import { scryptSync } from 'node:crypto';
import { afterEach, describe, expect, it } from 'vitest';
import { createAttempts } from '../../server/web/attempts.ts';
import { isLoopback, openEntrance, phoneAddresses } from '../../server/web/entrance.ts';
import { joinLink, openJoinCode } from '../../server/web/routes/access.ts';
import { hashKey, hashOf, isKey, newCode, newKey, readTyped } from '../../server/web/secrets.ts';
import { BUILD, type CountApp, type CountAppOptions, countApp, OTHER_BUILD } from '../support/count-app.ts';

const benches: CountApp[] = [];
afterEach(async () => {
  for (const bench of benches.splice(0)) await bench.close();
});

async function open(options: CountAppOptions = {}): Promise<CountApp> {
  const bench = await countApp(options);
  benches.push(bench);
  return bench;
}

const HTML = { accept: 'text/html' };

/** As a Daywright of before wrote it for this key: scrypt with a salt. */
const OLD_KEY = '7K2MQ-04XTB-9WZ3C-HJ5NV-RS8PD';
const OLD_SALT = Buffer.from('0123456789abcdef');
const OLD_HASH = `scrypt$32768$8$1$${OLD_SALT.toString('base64')}$${scryptSync(readTyped(OLD_KEY), OLD_SALT, 32, { N: 32_768, r: 8, p: 1, maxmem: 2 ** 26 }).toString('base64')}`;

describe('the maker', () => {
  it('comes in with the key, of which only a hash is kept', async () => {
    const bench = await open();
    const key = newKey();
    bench.store.access.setMakerKey(hashKey(key), bench.clock.nowMs);
    expect(bench.store.access.makerKeyHash()).toMatch(/^sha256\$[0-9a-f]{64}$/);
    expect(bench.store.access.makerKeyHash()).not.toContain(readTyped(key));
    const wrong = await enter(bench, newKey());
    expect(wrong.statusCode).toBe(401);
    expect(wrong.headers['set-cookie']).toBeUndefined();
    const right = await enter(bench, ` ${key.toLowerCase()} `);
    expect(right.statusCode).toBe(303);
    const page = await bench.app.inject({ url: '/', headers: { ...HTML, cookie: cookieOf(right) } });
    expect(page.statusCode).toBe(200);
  });

  it('comes in with a key that an older Daywright has stretched, which is kept like others from then on', async () => {
    const bench = await open();
    const { access } = bench.store;
    access.setMakerKey(OLD_HASH, bench.clock.nowMs);
    const session = bench.makerCookie();
    expect((await enter(bench, newKey())).statusCode).toBe(401);
    expect(access.makerKeyHash()).toBe(OLD_HASH);
    expect((await enter(bench, OLD_KEY)).statusCode).toBe(303);
    expect(access.makerKeyHash()).toMatch(/^sha256\$/);
    expect((await enter(bench, OLD_KEY)).statusCode).toBe(303);
    expect((await bench.app.inject({ url: '/', headers: { ...HTML, cookie: session } })).statusCode).toBe(200);
  });

  it('comes in once with the code of this start', async () => {
    const bench = await open({ ways: { startCodeHash: hashOf('ABCD1234') } });
    expect((await enter(bench, 'abcd-1234')).statusCode).toBe(303);
    expect((await enter(bench, 'abcd-1234')).statusCode).toBe(401);
  });

  it('has a cookie that scripts cannot read and other sites cannot send', async () => {
    const bench = await open({ ways: { startCodeHash: hashOf('ABCD1234') } });
    const cookie = String((await enter(bench, 'ABCD1234')).headers['set-cookie']);
    expect(cookie).toMatch(/^daywright=[\w-]{43};/);
    expect(cookie).toMatch(/HttpOnly/);
    expect(cookie).toMatch(/SameSite=Strict/);
    expect(cookie).toMatch(/Path=\//);
    expect(cookie).not.toMatch(/Secure/);
    const safe = await open({ ways: { secure: true, startCodeHash: hashOf('ABCD1234') } });
    expect(String((await enter(safe, 'ABCD1234')).headers['set-cookie'])).toMatch(/^__Host-daywright=.*Secure/);
  });

  it('is out again after signing out, on the server too', async () => {
    const bench = await open();
    const cookie = bench.makerCookie();
    await bench.app.inject({ method: 'POST', url: '/leave', headers: { cookie } });
    expect((await bench.app.inject({ url: '/', headers: { cookie } })).statusCode).toBe(401);
  });

  it('has a key made at the first start and none at the second', async () => {
    const bench = await open();
    const options = {
      store: bench.store.access,
      keys: bench.store.keys,
      nowMs: () => bench.clock.nowMs,
      host: '127.0.0.1',
      secure: false,
      names: [],
      askKey: false,
      certificate: null,
    };
    const first = await openEntrance(options);
    const second = await openEntrance(options);
    expect(first.newKey).toMatch(/^([0-9A-HJKMNP-TV-Z]{5}-){4}[0-9A-HJKMNP-TV-Z]{5}$/);
    expect(second.newKey).toBeNull();
    expect(await isKey(first.newKey!, bench.store.access.makerKeyHash()!)).toBe(true);
    const renewed = await openEntrance({ ...options, renewKey: true });
    expect(await isKey(first.newKey!, bench.store.access.makerKeyHash()!)).toBe(false);
    expect(renewed.newKey).not.toBeNull();
  });

  it('needs no key on a laptop that nobody else can reach', async () => {
    const bench = await open({ trustLoopback: true });
    expect(await statusOn(bench, {})).toBe(200);
    expect(await statusOn(bench, { host: '127.0.0.1:4380' })).toBe(200);
    expect(await statusOn(bench, { 'x-forwarded-for': '203.0.113.9' })).toBe(401);
    expect(await statusOn(bench, { host: '192.0.2.7:4380' })).toBe(401);
    const elsewhere = await bench.app.inject({ url: '/', headers: HTML, remoteAddress: '192.0.2.33' });
    expect(elsewhere.statusCode).toBe(401);
  });
});

describe('a name that was pointed at this laptop', () => {
  it('is refused unless it is one of its own', async () => {
    const bench = await open({ trustLoopback: true, ways: { names: ['bench.local'] } });
    expect(await statusOn(bench, { host: 'evil.example' })).toBe(421);
    expect(await statusOn(bench, { host: 'bench.local:4380' })).toBe(401);
    expect(await statusOn(bench, { host: '[::1]:4380' })).toBe(200);
  });
});

describe('an address that asks too often', () => {
  it('has to wait, and the others need not', async () => {
    const bench = await open({ ways: { mostAMinute: 3 } });
    const ask = async (remoteAddress: string) =>
      (await bench.app.inject({ url: '/enter', headers: HTML, remoteAddress })).statusCode;
    const one: number[] = [];
    for (let n = 0; n < 5; n++) one.push(await ask('192.0.2.33'));
    expect(one).toEqual([200, 200, 200, 429, 429]);
    expect(await ask('192.0.2.34')).toBe(200);
    bench.clock.nowMs += 60_001;
    expect(await ask('192.0.2.33')).toBe(200);
  });
});

describe('wrong tries', () => {
  const STRANGERS = 90;

  it('however many, from however many addresses, keep neither the right key nor a right code out', async () => {
    const bench = await open({ ways: { mostAMinute: 3 } });
    const key = newKey();
    bench.store.access.setMakerKey(hashKey(key), bench.clock.nowMs);
    const code = openJoinCode({ store: bench.store.access, nowMs: () => bench.clock.nowMs }, BUILD)!;
    for (let i = 0; i < 10 * STRANGERS; i++) {
      const remoteAddress = `203.0.113.${i % STRANGERS}`;
      expect((await enter(bench, newKey(), remoteAddress)).statusCode).toBe(401);
      expect((await join(bench, newCode(), 'Eve', remoteAddress)).statusCode).toBe(403);
    }
    expect((await enter(bench, key, '203.0.113.1')).statusCode).toBe(303);
    expect((await join(bench, code, 'Ana', '203.0.113.1')).statusCode).toBe(303);
  });

  it('and floods from the address of somebody who has been let in do not cost them their pages', async () => {
    const bench = await open({ ways: { mostAMinute: 3 } });
    const headers = { ...HTML, cookie: bench.makerCookie() };
    for (let i = 0; i < 10; i++) await bench.app.inject({ url: '/enter', headers: HTML });
    expect((await bench.app.inject({ url: '/enter', headers: HTML })).statusCode).toBe(429);
    expect((await bench.app.inject({ url: '/', headers })).statusCode).toBe(200);
  });
});

describe('a write from another site', () => {
  it('is refused by what the browser says of where it comes from', async () => {
    const bench = await open({ trustLoopback: true });
    const write = (headers: Record<string, string>) =>
      bench.app
        .inject({ method: 'POST', url: `/b/${BUILD}/entries`, headers, payload: { entries: [] } })
        .then((answer) => answer.statusCode);
    expect(await write({})).toBe(200);
    expect(await write({ 'sec-fetch-site': 'same-origin' })).toBe(200);
    expect(await write({ origin: 'http://localhost:80' })).toBe(200);
    for (const site of ['cross-site', 'same-site']) expect(await write({ 'sec-fetch-site': site })).toBe(403);
    for (const origin of ['http://evil.example', 'null', 'http://localhost:81'])
      expect(await write({ origin })).toBe(403);
  });
});

describe('a helper', () => {
  it('joins with a code once, under a name, and may count on that build only', async () => {
    const bench = await open();
    const code = openJoinCode({ store: bench.store.access, nowMs: () => bench.clock.nowMs }, BUILD)!;
    const joined = await join(bench, code, '  Ana   B ');
    expect(joined.statusCode).toBe(303);
    expect(joined.headers.location).toBe(`/b/${BUILD}/count`);
    const headers = { cookie: cookieOf(joined) };
    expect((await bench.app.inject({ url: `/b/${BUILD}/count`, headers })).statusCode).toBe(200);
    expect((await bench.app.inject({ url: `/b/${OTHER_BUILD}/count`, headers })).statusCode).toBe(403);
    expect(bench.store.access.helpers(BUILD).map((helper) => helper.name)).toEqual(['Ana B']);
    const again = await join(bench, code, 'Bo');
    expect(again.statusCode).toBe(403);
    expect(again.body).toContain('has been used');
  });

  it('is told when the code has ended, and is not let in', async () => {
    const bench = await open();
    const code = openJoinCode({ store: bench.store.access, nowMs: () => bench.clock.nowMs }, BUILD)!;
    bench.clock.nowMs += 16 * 60_000;
    const late = await join(bench, code, 'Ana');
    expect(late.statusCode).toBe(403);
    expect(late.body).toContain('has expired');
    expect((await join(bench, newCode(), 'Ana')).body).toContain('Nobody made that code');
  });

  it('cannot take the name of the maker or of another helper', async () => {
    const bench = await open();
    bench.helperCookie('Ana');
    const code = openJoinCode({ store: bench.store.access, nowMs: () => bench.clock.nowMs }, BUILD)!;
    expect((await join(bench, code, 'Maker')).statusCode).toBe(422);
    expect((await join(bench, code, '')).statusCode).toBe(422);
    expect((await join(bench, code, 'x'.repeat(41))).statusCode).toBe(422);
    expect((await join(bench, code, 'ANA')).statusCode).toBe(409);
    expect((await join(bench, code, 'Bo')).statusCode).toBe(303);
  });

  it('is let in for sixty days, and the maker for ninety, whatever the browser keeps', async () => {
    const bench = await open();
    const maker = bench.makerCookie();
    const statusAfter = async (days: number) => {
      bench.clock.nowMs += days * 24 * 3600_000;
      return (await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: maker } })).statusCode;
    };
    expect([await statusAfter(89), await statusAfter(2)]).toEqual([200, 401]);
  });

  it('is out as soon as the maker ends it, and after sixty days', async () => {
    const bench = await open();
    const maker = { cookie: bench.makerCookie() };
    const cookie = bench.helperCookie('Ana');
    const id = bench.store.access.helpers(BUILD)[0]!.id;
    await bench.app.inject({ method: 'POST', url: `/b/${BUILD}/helpers/${id}/end`, headers: maker });
    expect((await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie } })).statusCode).toBe(401);
    const old = bench.helperCookie('Bo');
    bench.clock.nowMs += 61 * 24 * 3600_000;
    expect((await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: old } })).statusCode).toBe(401);
  });

  it('counts under the name it joined with, whatever its entries say', async () => {
    const bench = await open();
    const entry = {
      id: 'entry-of-ana',
      kind: 'done',
      step: 'press',
      n: 1,
      who: 'maker',
      at: new Date(bench.clock.nowMs).toISOString(),
    };
    await bench.app.inject({
      method: 'POST',
      url: `/b/${BUILD}/entries`,
      headers: { cookie: bench.helperCookie('Ana') },
      payload: { entries: [entry] },
    });
    expect(bench.planner.log(BUILD)[0]?.who).toBe('Ana');
  });
});

describe('the maker’s list of helpers', () => {
  it('shows a code once, as a square to scan and as letters, and prints it where the server runs', async () => {
    const shown: string[] = [];
    const bench = await open({ ways: { show: (link) => shown.push(link) } });
    const headers = { cookie: bench.makerCookie() };
    const page = await bench.app.inject({ method: 'POST', url: `/b/${BUILD}/helpers/codes`, headers });
    const code = /<p class="stamp">([0-9A-Z]{5}-[0-9A-Z]{5})<\/p>/.exec(page.body)?.[1];
    expect(shown).toEqual([joinLink('http://192.0.2.7:4380', code!)]);
    expect(page.body).toContain('class="qr-dark"');
    expect(page.headers['cache-control']).toBe('no-store');
    const later = await bench.app.inject({ url: `/b/${BUILD}/helpers`, headers });
    expect(later.body).not.toContain(code);
    await bench.app.inject({ method: 'POST', url: `/b/${BUILD}/helpers/codes/end`, headers });
    expect((await join(bench, code!, 'Ana')).statusCode).toBe(403);
  });

  it('says that no phone can reach a server that listens to the laptop only', async () => {
    const bench = await open({ ways: { addresses: () => [] } });
    const page = await bench.app.inject({ url: `/b/${BUILD}/helpers`, headers: { cookie: bench.makerCookie() } });
    expect(page.body).toContain('--lan');
  });
});

describe('keys and codes', () => {
  it('are read whatever their case, blanks and look-alikes', () => {
    expect(readTyped(' abcd-o1il ')).toBe('ABCD0111');
  });

  it('differ each time', () => {
    expect(new Set(Array.from({ length: 200 }, newCode)).size).toBe(200);
  });

  it('are long enough that no guess in all the tries of a code’s time hits: 50 bits and 125', () => {
    const letters = (text: string) => text.replace(/-/g, '').length;
    expect([letters(newCode()), letters(newKey())].map((count) => count * Math.log2(32))).toEqual([50, 125]);
  });

  it('refuse a hash of another kind', async () => {
    expect(await isKey('x', 'md5$abc')).toBe(false);
    expect(await isKey('x', '')).toBe(false);
  });
});

describe('attempts', () => {
  it('are limited for each', () => {
    const attempts = createAttempts({ windowMs: 1000, most: 2 });
    expect([attempts.take('a', 0), attempts.take('a', 10)]).toEqual([0, 0]);
    expect(attempts.take('a', 20)).toBe(1);
    expect(attempts.take('b', 30)).toBe(0);
    expect(attempts.take('a', 1100)).toBe(0);
  });

  it('begin anew when the clock was set back behind their window', () => {
    const attempts = createAttempts({ windowMs: 1000, most: 1 });
    attempts.take('a', 1_000_000);
    expect(attempts.take('a', 500)).toBe(0);
  });
});

describe('addresses for phones', () => {
  it('are none where only this laptop is listened to', () => {
    expect(['localhost', '127.0.0.1', '::1', '127.1.2.3'].every(isLoopback)).toBe(true);
    expect(phoneAddresses('127.0.0.1', 4380, false)).toEqual([]);
    expect(phoneAddresses('192.0.2.7', 4380, true)).toEqual(['https://192.0.2.7:4380']);
  });
});

function enter(bench: CountApp, key: string, remoteAddress = '192.0.2.33') {
  return bench.app.inject({ method: 'POST', url: '/enter', headers: HTML, payload: { key }, remoteAddress });
}

function join(bench: CountApp, code: string, name: string, remoteAddress = '192.0.2.33') {
  return bench.app.inject({ method: 'POST', url: '/join', headers: HTML, payload: { code, name }, remoteAddress });
}

function cookieOf(answer: { headers: Record<string, unknown> }): string {
  return String(answer.headers['set-cookie']).split(';')[0]!;
}

async function statusOn(bench: CountApp, headers: Record<string, string>): Promise<number> {
  return (await bench.app.inject({ url: '/', headers: { ...HTML, ...headers } })).statusCode;
}
