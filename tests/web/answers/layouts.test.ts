import { expect, test } from 'vitest';
import type { createLayouts as Create } from '../../../server/web/layouts/layouts.ts';
import { type ToLayOut, waitsLayout } from '../../../views/pictures/waits-layout.ts';

/** As it is built: only that has a thread. */
const BUILT = new URL('../../../dist/server/web/layouts/layouts.js', import.meta.url);

const LINK = { step: 'step 0', type: 'units' };

/** A chain with a branch at each third step. */
function chain(steps: number): ToLayOut {
  const sizes = Array.from({ length: steps }, (_, i) => ({ id: `step-${i}`, width: 160, height: 80 }));
  const lines = sizes.slice(1).map(({ id }, i) => ({
    from: `step-${i % 3 === 2 ? i - 1 : i}`,
    to: id,
    links: [LINK as never],
    drives: i % 2 === 0,
  }));
  return { sizes, lines, wordsWidths: lines.map((_, i) => (i % 4) * 20), columns: 5 };
}

test('a picture lies the same whether it is laid out here or, where it is large, in a thread', async () => {
  const { createLayouts } = (await import(BUILT.href)) as { createLayouts: typeof Create };
  const layouts = createLayouts();
  try {
    for (const steps of [5, 60]) expect(await layouts.of(chain(steps))).toEqual(waitsLayout(chain(steps)));
  } finally {
    await layouts.close();
  }
});
