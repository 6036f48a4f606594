import { describe, expect, it } from 'vitest';
import { unletteredIn } from '../../../views/paper/lettering.ts';

describe('letters that only the machine can draw', () => {
  it('are named by one of each kind of writing, as many as are asked for', () => {
    expect(unletteredIn('木の板 🪵👷 לוח ամ', 9)).toEqual(['木', '🪵', 'ל', 'ա', 'մ']);
    expect(unletteredIn('木の板 🪵👷 לוח', 2)).toEqual(['木', '🪵']);
  });

  it('are none in what the lettering is served for, with its signs and figures', () => {
    expect(unletteredIn('Größe 7 “Łódź” Καλημέρα Привет ệ ª № © → ≈ 12 m²', 9)).toEqual([]);
  });
});
