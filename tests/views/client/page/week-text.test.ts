/** What a drawing of the week writes is read by the server as it was drawn. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readHours } from '../../../../server/engine/index.ts';
import { parseWeek, weekText, withSpan } from '../../../../views/client/page/week-text.ts';

const QUARTERS = 96;
const stroke = fc.record({
  day: fc.nat(6),
  from: fc.nat(QUARTERS - 1),
  to: fc.integer({ min: 1, max: QUARTERS }),
  takesOut: fc.boolean(),
});

it('is the quarters that strokes covered, by the server’s reading and by its own, over random strokes', () => {
  fc.assert(
    fc.property(fc.array(stroke, { maxLength: 12 }), (strokes) => {
      let week = parseWeek('')!;
      const quarters = new Set<string>();
      for (const { day, from, to, takesOut } of strokes.filter((one) => one.from < one.to)) {
        week = withSpan(week, day, { from: from * 15, to: to * 15 }, takesOut);
        for (let at = from; at < to; at++) quarters[takesOut ? 'delete' : 'add'](`${day} ${at}`);
      }
      const read = readHours(weekText(week));
      expect(read).toEqual({ ok: true, value: week });
      expect(parseWeek(weekText(week))).toEqual(week);
      const covered = week.flatMap((spans, day) =>
        spans.flatMap(({ from, to }) => Array.from({ length: (to - from) / 15 }, (_, i) => `${day} ${from / 15 + i}`)),
      );
      expect(new Set(covered)).toEqual(quarters);
      expect(covered.length).toBe(quarters.size);
    }),
  );
});

it.each([
  ['mon-fri 18-22:15; sat 9-13 14-18', 'Mon to Fri 18:00 to 22:15; Sat 09:00 to 13:00, 14:00 to 18:00'],
  ['Sat, Sun 09:00 to 18:00', 'Sat, Sun 09:00 to 18:00'],
  ['daily 07:10 to 22:00', 'Mon to Sun 07:10 to 22:00'],
  ['Tuesday 9-10; tue 10-11', 'Tue 09:00 to 11:00'],
])('shows %s, as it is typed, and writes it plainly', (typed, plain) => {
  const week = parseWeek(typed)!;
  expect(weekText(week)).toBe(plain);
  expect(readHours(typed)).toEqual({ ok: true, value: week });
});

it.each(['evenings', 'fri 22:00-02:00', 'mon', 'mon 18', 'mon 25:00-26:00', 'fri-mon 9-12', 'always', 'mon 9-8'])(
  'leaves %s to the server',
  (typed) => {
    expect(parseWeek(typed)).toBe(null);
  },
);
