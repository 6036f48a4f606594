/** The links of a work in flat arrays. */
import { indicesByGroup } from '../../numbers/index.ts';
import type { Link, Lot, Work } from '../../types.ts';
import { FINISH_START, START_START } from './codes.ts';
import type { SharedCalendars } from './compile-calendars.ts';

const TYPE = { 'finish-start': 0, 'start-start': 1, 'finish-finish': 2, 'start-finish': 3 } as const;
const MIRRORED_TYPE = { 'finish-start': 0, 'start-start': 2, 'finish-finish': 1, 'start-finish': 3 } as const;

/** Links grouped by the lot they bind: forwards the one they lead to, mirrored the one they come from. */
export function linkColumns(work: Work, mirrored: boolean, calendars: SharedCalendars) {
  const lots = work.lots.length;
  const binding = work.links.filter((link) => binds(link, work.lots[link.to]!));
  const [linkFirst, grouped] = indicesByGroup(
    lots,
    binding.map(({ from, to }) => (mirrored ? from : to)),
  );
  const linkFrom = new Int32Array(binding.length);
  const linkType = new Int32Array(binding.length);
  const linkLag = new Int32Array(binding.length);
  const linkCalendar = new Int32Array(binding.length).fill(-1);
  const linkTime = new Int32Array(binding.length).fill(-1);
  grouped.forEach((at, i) => {
    const link = binding[at]!;
    linkFrom[i] = mirrored ? link.to : link.from;
    linkType[i] = (mirrored ? MIRRORED_TYPE : TYPE)[link.type];
    linkLag[i] = link.lagMinutes;
    if (link.lagOpen !== null && link.lagMinutes !== 0) linkCalendar[i] = calendars.numberOf(link.lagOpen);
    else if (linkType[i]! <= START_START) linkTime[i] = linkFrom[i]! + (linkType[i] === FINISH_START ? lots : 0);
  });
  return { linkFirst, linkFrom, linkType, linkLag, linkCalendar, linkTime };
}

/** What is under way waits with its end alone. */
export function binds({ type }: Link, to: Lot): boolean {
  return to.begunAt === null || type === 'finish-finish' || type === 'start-finish';
}
