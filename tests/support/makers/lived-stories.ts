/**
 * The twenty stories that a build was told in its seventeen days, each told by the planner's own interface on a rain
 * ceiling that is under way, and what a person would expect of the answer. Each story is taken back afterwards.
 */
import type { Forecast, ForecastStep } from '../../../server/model/index.ts';
import type { LivedMaker } from './lived-maker.ts';

const DAY = 1440;
/** Minutes by which a short search may place the same work otherwise. */
const SHUFFLED = 120;

/** Before and after a story was told, and what was answered while it was told. */
export interface Told {
  readonly before: Forecast;
  readonly after: Forecast;
  readonly answers: readonly string[];
}

export interface Story {
  readonly number: number;
  readonly title: string;
  /** Told on the second morning, or when most is made. */
  readonly when: 'early' | 'late';
  readonly tell: (maker: LivedMaker, before: Forecast) => Promise<readonly string[]>;
  /** What a person expects, each with whether it came true. */
  readonly expects: (told: Told) => Readonly<Record<string, boolean>>;
}

export const STORIES: readonly Story[] = [
  {
    number: 1,
    title: 'the holes are of another size: every cam is drilled again',
    when: 'late',
    tell: (maker) =>
      maker.edit([
        {
          kind: 'put',
          list: 'steps',
          key: 'drill',
          thing: { id: 'drill', name: 'drill again', part: 'cam', phases: [{ kind: 'hands', perUnit: 30 }] },
          after: 'clean',
        },
      ]),
    expects: ({ before, after, answers }) => ({
      'it is taken': answers.length === 0,
      'all cams are to be drilled': step(after, 'drill').left >= 24,
      'room is lost': room(after) < room(before),
    }),
  },
  {
    number: 2,
    title: 'the cutter is a week late',
    when: 'early',
    tell: async (maker, before) => {
      const { backAt } = step(before, 'order-drop').underWay[0]!;
      return maker.tap('promised', { step: 'order-drop', until: instant(backAt + 7 * DAY) });
    },
    expects: ({ before, after }) => ({
      'room is lost': room(after) <= room(before) - DAY,
      'the chance falls': chance(after) <= chance(before) + 0.01,
      'the cutter is the first threat, if the date is in danger':
        chance(after) > 0.8 || after.threats?.[0]?.code === 'late-delivery',
      'the way to the date goes by the cutter': (after.why ?? []).some(({ supplier }) => supplier === 'Cutter'),
    }),
  },
  {
    number: 3,
    title: 'the paint dries for a day',
    when: 'early',
    tell: (maker) =>
      maker.edit([
        {
          kind: 'set',
          list: 'steps',
          key: 'paint',
          field: 'phases',
          value: [
            { kind: 'hands', perUnit: 1.5 },
            { kind: 'wait', minutes: '24 h' },
          ],
        },
      ]),
    expects: ({ before, after }) => ({
      'room is not gained': room(after) <= room(before),
      'the wait is a day': step(after, 'paint').waitMinutesPerLot === DAY,
    }),
  },
  {
    number: 4,
    title: 'half of the cams fail',
    when: 'early',
    tell: async (maker) => maker.tap('scrapped', { step: 'print', n: 18, counted: true }),
    expects: ({ before, after }) => ({
      'more are to be printed': step(after, 'print').left > step(before, 'print').left,
      'the share that comes out good is learnt': part(after, 'cam').yield < part(before, 'cam').yield,
      'room is not gained': room(after) <= room(before),
    }),
  },
  {
    number: 5,
    title: 'Cleo cancels her Saturdays',
    when: 'early',
    tell: (maker) => maker.edit([{ kind: 'set', list: 'people', key: 'cleo', field: 'hours', value: 'off' }]),
    expects: ({ before, after }) => ({
      'nobody expects her': after.lots.every(({ placements }) => placements.every((it) => !it.people.includes('cleo'))),
      'room is not gained': room(after) <= room(before),
      'the chance does not rise': chance(after) <= chance(before) + error(before, after),
    }),
  },
  {
    number: 6,
    title: 'the load-in is a day sooner',
    when: 'early',
    tell: async (maker) => {
      const alone = await maker.edit([{ kind: 'set', list: 'build', field: 'loadIn', value: '2025-03-16T08:00' }]);
      const both = await maker.edit([
        { kind: 'set', list: 'build', field: 'loadIn', value: '2025-03-16T08:00' },
        { kind: 'set', list: 'build', field: 'readyBy', value: '2025-03-15T18:00' },
      ]);
      return [...alone, ...both.map((problem) => `both: ${problem}`)];
    },
    expects: ({ before, after, answers }) => ({
      'a load-in before the ready-by is refused with a reason': answers.length === 1,
      'a day of room is gone': room(after) === room(before) - DAY,
    }),
  },
  {
    number: 7,
    title: 'the door is 80 cm wide, and a frame 95',
    when: 'early',
    tell: (maker) =>
      maker.edit([
        { kind: 'put', list: 'parameters', key: 'door_cm', thing: { name: 'door_cm', value: 80 } },
        { kind: 'put', list: 'parameters', key: 'frame_cm', thing: { name: 'frame_cm', value: 95 } },
        {
          kind: 'put',
          list: 'limits',
          key: 'through-the-door',
          thing: { id: 'through-the-door', name: 'through the door', of: 'door_cm - frame_cm', least: 0 },
        },
      ]),
    expects: ({ after, answers }) => ({
      'it is taken': answers.length === 0,
      'it is said that it does not go through':
        after.limits?.find(({ id }) => id === 'through-the-door')?.state === 'broken',
    }),
  },
  {
    number: 8,
    title: 'the same is counted on two phones',
    when: 'late',
    tell: async (maker) => {
      const first = maker.tap('done', { step: 'sand', n: 2, person: 'ada' });
      const second = maker.tap('done', { step: 'sand', n: 2, person: 'ben' });
      return [...first, ...second];
    },
    expects: ({ answers }) => ({ 'it is asked whether that was one': answers.length > 0 }),
  },
  {
    number: 9,
    title: 'a glued frame breaks, and its cams with it',
    when: 'late',
    tell: async (maker) => [
      ...maker.tap('scrapped', { step: 'glue', n: 1, counted: true, set: 1 }),
      ...maker.tap('scrapped', { step: 'clean', n: 12, counted: true }),
    ],
    expects: ({ before, after }) => ({
      'one more is to be glued': step(after, 'glue').left === step(before, 'glue').left + 1,
      'its cams are made again': step(after, 'print').left >= 6 && step(after, 'clean').left >= 6,
      'room is not gained': room(after) <= room(before),
    }),
  },
  {
    number: 10,
    title: 'the plan leans on the nights',
    when: 'early',
    tell: (maker) =>
      maker.edit([
        { kind: 'set', list: 'people', key: 'ada', field: 'hours', value: 'daily 22:00-04:00' },
        { kind: 'set', list: 'people', key: 'ben', field: 'hours', value: 'daily 22:00-04:00' },
      ]),
    expects: ({ before, after }) => ({
      'it is said':
        after.threats!.some(({ code }) => code === 'nights') || after.workHours.length > before.workHours.length,
    }),
  },
  {
    number: 11,
    title: 'the fabric must be certified',
    when: 'early',
    tell: (maker) =>
      maker.edit([
        {
          kind: 'put',
          list: 'decisions',
          key: 'fabric',
          thing: { id: 'fabric', question: 'Which fabric?', waits: ['paint'], answers: ['cotton', 'wool'] },
        },
      ]),
    expects: ({ after }) => ({ 'it is said until when': after.decisions[0]?.decideBy != null }),
  },
  {
    number: 12,
    title: 'all else is at nine tenths: what drives the date',
    when: 'early',
    tell: async () => [],
    expects: ({ after }) => ({
      'the way to the date goes by the cutter': (after.why ?? []).some(({ supplier }) => supplier === 'Cutter'),
      'every link begins as the one before ends, or later': (after.why ?? []).every(
        ({ start, finish }, i, why) => finish >= start && (i === 0 || start >= why[i - 1]!.start),
      ),
    }),
  },
  {
    number: 13,
    title: 'cleaning takes three times as long as thought',
    when: 'early',
    tell: async (maker) => {
      for (let i = 0; i < 3; i++) {
        maker.tap('began', { step: 'clean', person: 'ada' });
        maker.now += 18;
        maker.tap('done', { step: 'clean', n: 6, person: 'ada' });
      }
      maker.tap('paused', { step: 'clean', person: 'ada' });
      return [];
    },
    expects: ({ before, after }) => ({
      'the pace is learnt': minutesEach(after, 'clean') > 1.5 * minutesEach(before, 'clean'),
      'it is said': step(after, 'clean').pace!.notes.length > 0,
      'room is not gained': room(after) <= room(before),
    }),
  },
  {
    number: 14,
    title: 'one of two printers is out for two days',
    when: 'early',
    tell: async (maker) => maker.tap('lost', { machine: 'printer', n: 1, until: instant(maker.now + 2 * DAY) }),
    expects: ({ before, after }) => ({
      'room is not gained': room(after) <= room(before),
      "nobody's hours are lost": hoursOffered(after) === hoursOffered(before),
      'the printers have two days less': machineOffered(after) === machineOffered(before) - 2 * DAY,
    }),
  },
  {
    number: 15,
    title: 'a third helper comes on Saturdays',
    when: 'early',
    tell: (maker) =>
      maker.edit([
        { kind: 'put', list: 'people', key: 'dan', thing: { id: 'dan', name: 'Dan', hours: 'sat 09:00-18:00' } },
      ]),
    expects: ({ before, after }) => ({
      'room is not lost': room(after) >= room(before),
      'the chance does not fall': chance(after) >= chance(before) - error(before, after),
    }),
  },
  {
    number: 16,
    title: 'two drops more a frame, after the drops were ordered',
    when: 'early',
    tell: (maker) => maker.edit([{ kind: 'set', list: 'parameters', key: 'drops', field: 'value', value: 14 }]),
    expects: ({ before, after }) => ({
      'what is on its way is still on its way': underWay(after) === underWay(before),
      'the others are to be ordered': step(after, 'order-drop').left >= underWay(after) + 4,
      'room is not gained': room(after) <= room(before),
    }),
  },
  {
    number: 17,
    title: 'a spare motor for each frame',
    when: 'early',
    tell: (maker) => maker.edit([{ kind: 'set', list: 'parts', key: 'motor', field: 'spares', value: 2 }]),
    expects: ({ before, after }) => ({
      'two more are to be ordered': step(after, 'order-motor').total === step(before, 'order-motor').total + 2,
      'they do not hold up the date': room(after) === room(before),
    }),
  },
  {
    number: 18,
    title: 'ninety small things more',
    when: 'early',
    tell: (maker) =>
      maker.edit([
        {
          kind: 'put',
          list: 'parts',
          key: 'tag',
          thing: { id: 'tag', name: 'tag', source: 'make', count: 90, yield: 0.95 },
        },
        {
          kind: 'put',
          list: 'steps',
          key: 'tags',
          thing: { id: 'tags', name: 'cut tags', part: 'tag', phases: [{ kind: 'hands', perUnit: 4 }] },
        },
      ]),
    expects: ({ before, after }) => ({
      'enough are begun that ninety are good': part(after, 'tag').toMake > 94,
      'room is not gained': room(after) <= room(before),
    }),
  },
  {
    number: 19,
    title: 'it fails at the venue',
    when: 'late',
    tell: async (maker) => {
      const problems = await maker.edit([
        {
          kind: 'put',
          list: 'gates',
          key: 'power',
          thing: { id: 'power', name: 'power on', after: ['put-up'], minutes: 60, failChance: 0.2 },
        },
      ]);
      return problems;
    },
    expects: ({ before, after, answers }) => ({
      'it is taken': answers.length === 0,
      'the workshop is ready as before': room(after) === room(before),
      'the hour is taken from the room to the event': after.room.event.clock! <= before.room.event.clock! - 60,
    }),
  },
  {
    number: 20,
    title: 'the day after: timed against assumed',
    when: 'late',
    tell: async () => [],
    expects: ({ after }) => ({
      'most of what was done by hand was timed': timed(after).length >= 4,
      'what took as long as thought is timed so': timed(after).every(({ pace }) =>
        isNear(pace!.minutes / pace!.units, pace!.estimate),
      ),
    }),
  },
];

function step(forecast: Forecast, id: string): ForecastStep {
  const found = forecast.steps.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no step ${id}`);
  return found;
}

function part(forecast: Forecast, id: string) {
  return forecast.parts.find((one) => one.id === id)!;
}

function minutesEach(forecast: Forecast, id: string): number {
  return step(forecast, id).pace!.minutesPerUnit;
}

function underWay(forecast: Forecast): number {
  return step(forecast, 'order-drop').underWay.reduce((sum, { units }) => sum + units, 0);
}

function room(forecast: Forecast): number {
  return forecast.room.readyBy.clock ?? Number.NEGATIVE_INFINITY;
}

function chance(forecast: Forecast): number {
  return forecast.risk!.readyBy.chance;
}

function error(...forecasts: readonly Forecast[]): number {
  return 3 * Math.hypot(...forecasts.map(({ risk }) => risk!.readyBy.error)) + 0.01;
}

function hoursOffered({ capacity }: Forecast): number {
  return capacity.filter(({ kind }) => kind === 'people').reduce((sum, { offeredMinutes }) => sum + offeredMinutes, 0);
}

function machineOffered({ capacity }: Forecast): number {
  return capacity.find(({ kind }) => kind === 'machine')!.offeredMinutes;
}

function timed({ steps }: Forecast): ForecastStep[] {
  return steps.filter(({ pace }) => pace != null && pace.units > 0);
}

function isNear(minutes: number, estimate: number): boolean {
  return minutes > 0.7 * estimate && minutes < 1.4 * estimate;
}

function instant(minute: number): string {
  return `${new Date(minute * 60_000).toISOString().slice(0, 16)}:00Z`;
}

/** Tells a story to a maker, takes it back, and gives what did not come true: none where all did. */
export async function failuresOf(story: Story, maker: LivedMaker): Promise<string[]> {
  const before = await maker.look();
  const mark = maker.mark();
  const answers = await story.tell(maker, before);
  const after = await maker.look();
  const came = story.expects({ before, after, answers });
  await maker.takeBack(mark);
  const again = await maker.look();
  const isBack = Math.abs(room(again) - room(before)) <= maker.now - mark.now + SHUFFLED;
  return [
    ...Object.entries(came).flatMap(([name, is]) => (is ? [] : [name])),
    ...(isBack ? [] : ['taken back, the date is as it was']),
  ];
}
