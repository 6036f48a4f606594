/** Make or send out, in words for a terminal. */
import { texts } from '../../views/texts/index.ts';
import {
  splitFigures,
  splitText,
  turnTexts,
  type WayTerms,
  wantedText,
  wayRows,
  waysPresentText,
} from '../../views/words/way-words.ts';
import { figure } from '../../views/words/wording.ts';
import { type Build, messageOf, type PartWays, type WaysBeside } from '../model/index.ts';
import { wallClock } from '../web/wall-clock.ts';
import { terminalText } from './terminal-text.ts';

const say = texts.ways;

/** The ways of each part, with a line's end behind every line. */
export function waysSummary(build: Build, found: WaysBeside): string {
  const terms = { clock: wallClock(build.zone), now: found.now, currency: build.currency ?? '' };
  const blocks = [
    [build.name],
    [waysPresentText(found, terms.clock)],
    ...found.parts.map((part) => partLines(part, terms)),
    found.parts.length === 0 && found.present !== null ? [say.noParts] : [say.done(figure(found.futures))],
  ];
  return terminalText(blocks);
}

function partLines(part: PartWays, terms: WayTerms): string[] {
  const ways = part.ways.flatMap((way) => [
    `  ${way.name}${way.isPresent ? ` (${say.now})` : ''}`,
    ...wayRows(way, terms).map(({ name, is, differs }) => `    ${name}: ${is}${differs === '' ? '' : ` (${differs})`}`),
  ]);
  const refused = part.refused.map(
    ({ name, problems }) => `  ${say.refused(name, problems.slice(0, 1).map(messageOf).join(''))}`,
  );
  const splits = part.splits.map((split) => `    ${splitText(part, split)}: ${splitFigures(split, terms).join(', ')}`);
  const best = part.best === null ? say.noSplit : say.splitBest(splitText(part, part.splits[part.best]!));
  return [
    `${part.name}: ${wantedText(part)}`,
    ...ways,
    ...refused,
    ...turnTexts(part, terms).map((text) => `  ${text}`),
    ...(splits.length === 0 ? [] : [`  ${say.split}. ${best}`, ...splits]),
  ];
}
