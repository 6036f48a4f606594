import { X509Certificate } from 'node:crypto';
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer, request } from 'node:https';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { certificateFrom, ownCertificate } from '../../../server/web/tls.ts';
import { scratch } from '../../store/helpers.ts';

const NOW = Date.now();
const NAMES = ['localhost', '127.0.0.1', 'bench.local', '192.0.2.7'];

describe('the certificate made here', () => {
  it('is for the names and addresses of the machine, and signed by an authority of its own', async () => {
    const { cert, authority } = await ownCertificate(scratch(), NAMES, NOW);
    const [server, root] = [new X509Certificate(cert), new X509Certificate(authority!)];
    expect([server.checkHost('bench.local'), server.checkIP('192.0.2.7')]).toEqual(['bench.local', '192.0.2.7']);
    expect(server.checkHost('elsewhere.example')).toBeUndefined();
    expect(server.verify(root.publicKey)).toBe(true);
    expect([root.ca, server.ca]).toEqual([true, false]);
    const days = (Date.parse(server.validTo) - Date.parse(server.validFrom)) / 86_400_000;
    expect(days).toBeLessThan(825);
  });

  it('keeps one key only, readable by nobody else, and not that of the authority', async () => {
    const folder = scratch();
    const { key, authority } = await ownCertificate(folder, NAMES, NOW);
    expect(statSync(join(folder, 'server.key')).mode & 0o777).toBe(0o600);
    expect(readFileSync(join(folder, 'server.key'), 'utf8')).toBe(key);
    expect(new X509Certificate(authority!).checkPrivateKey((await import('node:crypto')).createPrivateKey(key))).toBe(
      false,
    );
  });

  it('is taken up again at the next start, and made anew for a new name or near its end', async () => {
    const folder = scratch();
    const first = await ownCertificate(folder, NAMES, NOW);
    expect(await ownCertificate(folder, NAMES, NOW + 1000)).toEqual(first);
    expect((await ownCertificate(folder, [...NAMES, '192.0.2.8'], NOW)).cert).not.toBe(first.cert);
    const second = await ownCertificate(folder, NAMES, NOW);
    expect((await ownCertificate(folder, NAMES, NOW + 775 * 86_400_000)).cert).not.toBe(second.cert);
  });

  it('serves a client that trusts the authority', async () => {
    const { cert, key, authority } = await ownCertificate(scratch(), NAMES, NOW);
    const server = createServer({ cert, key }, (_request, response) => response.end('here'));
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const { port } = server.address() as { port: number };
    const status = await new Promise<number | undefined>((resolve, reject) => {
      request({ host: '127.0.0.1', port, ca: authority! }, (response) => {
        response.resume();
        resolve(response.statusCode);
      })
        .on('error', reject)
        .end();
    });
    server.close();
    expect(status).toBe(200);
  });
});

describe('a certificate from files', () => {
  it('is taken as it is', async () => {
    const folder = scratch();
    const made = await ownCertificate(folder, NAMES, NOW);
    const read = certificateFrom(join(folder, 'server.crt'), join(folder, 'server.key'));
    expect(read).toEqual({ ok: true, value: { cert: made.cert, key: made.key, authority: null } });
  });

  it('is refused in words when it is missing or something else', () => {
    const folder = scratch();
    writeFileSync(join(folder, 'no.crt'), 'hello');
    const missing = certificateFrom(join(folder, 'a'), join(folder, 'b'));
    expect(missing.ok ? [] : missing.problems.map((p) => p.field)).toEqual(['--tls-cert', '--tls-key']);
    const wrong = certificateFrom(join(folder, 'no.crt'), join(folder, 'no.crt'));
    expect(wrong.ok ? '' : wrong.problems[0]?.message).toMatch(/not a certificate in PEM form/);
  });
});
