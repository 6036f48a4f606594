/**
 * What axe-core finds on a page. The test's own server serves it, since a script that comes over the browser's wire is
 * compiled anew for each page: that took longer than what it looks for.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { FastifyInstance } from 'fastify';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const ADDRESS = '/assets/axe-for-tests.js';

export interface Finding {
  readonly id: string;
  readonly impact: string;
  readonly html: string;
  readonly why: string;
}

/** Has a server serve axe; to be called before it listens. */
export function serveAxe(app: FastifyInstance): void {
  app.get(ADDRESS, { config: { access: 'open' } }, (_request, reply) =>
    reply.type('text/javascript').header('cache-control', 'public, max-age=31536000, immutable').send(AXE),
  );
}

/** All that axe finds on a page of a server with `serveAxe`. What passes is not asked for, nor the sheets of style. */
export async function findingsOf(page: Page): Promise<Finding[]> {
  return page.evaluate(async (address) => {
    interface Violation {
      readonly id: string;
      readonly impact: string;
      readonly nodes: readonly { readonly html: string; readonly failureSummary: string }[];
    }
    const shared = globalThis as unknown as { axe?: { run(options: object): Promise<{ violations: Violation[] }> } };
    if (!shared.axe) {
      await new Promise((loaded, failed) => {
        const script = Object.assign(document.createElement('script'), {
          src: address,
          onload: loaded,
          onerror: failed,
        });
        document.head.append(script);
      });
    }
    const { violations } = await shared.axe!.run({ resultTypes: ['violations'], preload: false });
    return violations.flatMap(({ id, impact, nodes }) =>
      nodes.map(({ html, failureSummary }) => ({ id, impact, html: html.slice(0, 160), why: failureSummary })),
    );
  }, ADDRESS);
}

/** Those that are serious or critical. */
export async function seriousOn(page: Page): Promise<Finding[]> {
  return (await findingsOf(page)).filter(({ impact }) => impact === 'serious' || impact === 'critical');
}
