/** Hours of the week in words, in the language of who reads them. */
import { describe, expect, it } from 'vitest';
import { inLanguage } from '../../../server/web/language.ts';
import { hoursInWords } from '../../../views/words/weekly-hours.ts';

describe('hours in words', () => {
  it('are days and spans, and words of ours where they are kept in those', () => {
    const kept = 'mon-fri 18-22; sat 9-13 14-18; daily 07:00 to 22:00; off';
    expect(inLanguage('en', () => hoursInWords(kept))).toBe(
      'Mon to Fri 18:00 to 22:00; Sat 09:00 to 13:00, 14:00 to 18:00; daily 07:00 to 22:00; off',
    );
    expect(inLanguage('de', () => hoursInWords(kept))).toBe(
      'Mo bis Fr 18:00 bis 22:00; Sa 09:00 bis 13:00, 14:00 bis 18:00; täglich 07:00 bis 22:00; frei',
    );
  });

  it.each([
    ['weekdays', 'Mo bis Fr'],
    ['weekend', 'Wochenende'],
    ['mornings', 'morgens'],
    ['afternoons', 'nachmittags'],
    ['evenings', 'abends'],
    ['always', 'immer'],
    ['never', 'nie'],
  ])('say %s as it is kept, and in German %s', (kept, german) => {
    expect(inLanguage('en', () => hoursInWords(kept))).toBe(kept);
    expect(inLanguage('de', () => hoursInWords(kept))).toBe(german);
  });
});
