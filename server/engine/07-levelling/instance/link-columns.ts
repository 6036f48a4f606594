/** The links of a work in flat arrays. */
import { indicesByGroup } from '../../numbers/index.ts';
import type { Link, Lot, Work } from '../../types.ts';
import { FINISH_FINISH, FINISH_START, OUT, START_START } from './codes.ts';
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
  const columns = { linkFirst, linkFrom, linkType, linkLag, linkCalendar, linkTime };
  return { ...columns, ...outColumns(columns) };
}

/** The links once more by the lot they come from, see `Instance.out`. */
function outColumns({ linkFirst, linkFrom, linkType, linkTime, linkLag }: InColumns) {
  const [outFirst, grouped] = indicesByGroup(
    2 * (linkFirst.length - 1),
    Array.from(linkFrom, (from, i) => 2 * from + Number(goesByFinish(linkType[i]!))),
  );
  const to = new Int32Array(linkFrom.length);
  for (let l = 0; l + 1 < linkFirst.length; l++) to.fill(l, linkFirst[l]!, linkFirst[l + 1]!);
  const out = new Int32Array(OUT * grouped.length);
  grouped.forEach((i, j) => {
    out.set([i, to[i]!, linkTime[i]!, linkLag[i]!], OUT * j);
  });
  return { outFirst: outFirst.map((j) => OUT * j), out };
}

type InColumns = Readonly<Record<'linkFirst' | 'linkFrom' | 'linkType' | 'linkTime' | 'linkLag', Int32Array>>;

function goesByFinish(type: number): boolean {
  return type === FINISH_START || type === FINISH_FINISH;
}

/** What is under way waits with its end alone. */
export function binds({ type }: Link, to: Lot): boolean {
  return to.begunAt === null || type === 'finish-finish' || type === 'start-finish';
}
