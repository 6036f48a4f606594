import { describe, expect, it } from 'vitest';
import { formulaList } from '../../server/engine/01-quantities/index.ts';
import type { ListedFormula } from '../../server/model/index.ts';
import { daywright } from './helpers.ts';

describe('daywright formulas', () => {
  it('prints call, arguments with units, source and a worked example', async () => {
    const { code, out, err } = await daywright(['formulas']);
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('print_minutes(volume, flow)');
    expect(out).toContain('volume: cm³, at least 0');
    expect(out).toContain('print_minutes(18.5, 11) = 28.0303 min');
    expect(out).toContain('cutting_minutes(path, feed, depth, stepdown, plunge_feed?, rapids?)');
    for (const { name } of formulaList()) expect(out).toContain(`${name}(`);
  });

  it('gives the same as data, and takes no file', async () => {
    const { out } = await daywright(['formulas', '--json']);
    const listed = JSON.parse(out) as (ListedFormula & { readonly answers: string })[];
    const bare = ({ source, ...formula }: ListedFormula) => formula;
    expect(listed.map(({ answers, ...one }) => bare(one))).toEqual(JSON.parse(JSON.stringify(formulaList().map(bare))));
    const batch = listed.find(({ name }) => name === 'batch_minutes')!;
    expect([batch.answers, batch.source]).toEqual([
      'time of a batch with its setup',
      'Groover, Fundamentals of Modern Manufacturing, production quantities (from memory)',
    ]);
    expect(await daywright(['formulas', 'wall.json'])).toMatchObject({ code: 2, out: '' });
  });
});
