/** What would buy time, in words for a terminal. */
import { texts } from '../../views/texts/index.ts';
import {
  freeTexts,
  gainedText,
  leverChanceText,
  leverCostText,
  leversText,
  leverText,
  neckText,
  presentText,
  reasonText,
  warnedTexts,
} from '../../views/words/lever-words.ts';
import { figure, roomText, whenText } from '../../views/words/wording.ts';
import type { Build, LeverRow, LeverSearch, LeverSet, LeverWorth } from '../model/index.ts';
import { wallClock } from '../web/wall-clock.ts';
import { section, terminalText } from './terminal-text.ts';

const say = texts.levers;

/** The levers of a build, the best first, with a line's end behind every line. */
export function leversSummary(build: Build, search: LeverSearch): string {
  const clock = wallClock(build.zone);
  const { rows, present, neck, pair, triple, takes, now } = search;
  const nameOf = (person: string) => build.people?.find(({ id }) => id === person)?.name ?? person;
  const worth = (one: LeverWorth): string => {
    const [gained, chance] = [gainedText(one), leverChanceText(one)];
    const ready = one.readyAt === null ? [] : [say.ready(whenText(clock, one.readyAt, now))];
    return [`${gained.is} ${gained.error}`, `${chance.is} (${chance.differs})`, ...ready].join(', ');
  };
  const rowLines = (row: LeverRow): string[] => [
    leverText(row.lever),
    `    ${worth(row)}; ${say.columns.cost.toLowerCase()} ${leverCostText(row.lever.cost, build.currency ?? '')}`,
    ...warnedTexts(row, nameOf).map((text) => `    ${say.warns(text)}`),
  ];
  const setLines = (title: string, set: LeverSet | null): string[] =>
    set === null ? [] : [title, `  ${leversText(set.rows.map((place) => rows[place]!))}`, `    ${worth(set)}`];
  const gaining = rows.filter(({ verdict }) => verdict === 'gains');
  const others = rows.filter(({ verdict }) => verdict !== 'gains');
  const neckWords = neckText(neck, clock, now);
  const blocks = [
    [build.name],
    [presentText(search, clock) ?? say.noDate, ...(neckWords === null ? [] : [say.neck(neckWords)])],
    takesLines(search),
    takes === null ? [] : setLines(say.takes, takes),
    present !== null && gaining.length === 0 ? [say.nothingGains] : section(say.heading, gaining.flatMap(rowLines)),
    setLines(say.pair, pair),
    setLines(say.triple, triple),
    section(say.freeUntil, freeTexts(search, clock)),
    section(
      say.buysNothing,
      others.map(
        ({ lever, reason }) => `${leverText(lever)}${reason === null ? '' : `: ${reasonText(reason, clock, now)}`}`,
      ),
    ),
    [say.done(search.tried, figure(search.futures))],
  ];
  return terminalText(blocks);
}

function takesLines({ present, takes }: LeverSearch): string[] {
  if (present === null || present.room === null || present.room >= 0) return [];
  if (takes === null) return [say.takesNothing];
  return [takes.keeps ? say.takesKeeps(roomText(takes.room)) : say.takesShort(roomText(takes.room))];
}
