import { expect, test } from 'vitest';
import { compile } from '../../../server/engine/07-levelling/generate/compiled.ts';
import { generateSerial } from '../../../server/engine/07-levelling/generate/generate.ts';
import { scheduleOf } from '../../../server/engine/07-levelling/generate/schedule.ts';
import { calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import type { Phase } from '../../../server/engine/types.ts';
import { ALWAYS, lot, person, work } from '../_network.ts';

const DAY = 1440;
const at = (day: number, hours: number, minutes = 0): number => day * DAY + hours * 60 + minutes;
/** From nine to five. */
const DAYTIME = calendarFrom([0, 1, 2, 3].map((day) => [at(day, 9), at(day, 17)]));

const hands = (minutes: number): Phase => ({
  kind: 'hands',
  minutes,
  people: 1,
  eligible: [0],
  oneGo: true,
  open: DAYTIME,
});
const run = (minutes: number): Phase => ({
  kind: 'run',
  minutes,
  machine: 1,
  attended: false,
  people: 0,
  eligible: [],
  open: ALWAYS,
});

/** Ada loads a printer from 12:55 on, it runs, she unloads it; where `taken`, other work has it from 18:00 to 20:00. */
function printing(taken: boolean): readonly (readonly [number, number])[] {
  const print = lot('print', [hands(8), run(250), hands(4)], { release: at(0, 12, 55) });
  const other = lot('other', [run(120)], { release: at(0, 18) });
  const given = work({
    resources: [person('ada', DAYTIME), { ...person('printer', ALWAYS), kind: 'machine' }],
    lots: taken ? [print, other] : [print],
  });
  const compiled = compile(given);
  const activityList = Int32Array.from(taken ? [1, 0] : [0]);
  generateSerial(compiled.forward, activityList);
  const { placements } = scheduleOf(compiled, compiled.forward, activityList);
  return placements.filter((one) => one.lot === 0).map(({ start, finish }) => [start, finish]);
}

test('a run ends in the evening, and is unloaded in the morning where nothing else needs the machine', () => {
  expect(printing(false)).toEqual([
    [at(0, 12, 55), at(0, 13, 3)],
    [at(0, 13, 3), at(0, 17, 13)],
    [at(1, 9), at(1, 9, 4)],
  ]);
});

test('what keeps a machine from its loading to its unloading moves as a whole where other work comes between', () => {
  expect(printing(true)).toEqual([
    [at(1, 9), at(1, 9, 8)],
    [at(1, 9, 8), at(1, 13, 18)],
    [at(1, 13, 18), at(1, 13, 22)],
  ]);
});
