/** Why this date: the chain that drives the ready finish, downwards from now, the ready finish at its foot. */
import type { WhyLine } from '../../server/model/index.ts';
import { type Html, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { whyWords } from '../words/schedule-words.ts';
import { soonText } from '../words/wording.ts';

const say = texts.schedule.why;

/** Links at the top and at the foot that stand open; the rest are folded. */
const SHOWN_EACH_END = 3;
/** Things in a row for one pair of hands that stand as one link. */
const FEWEST_MERGED = 3;
const MOST_LINES = 24;

/** One link as it is drawn: a line of the chain, or several in a row that only waited for the same hands. */
interface Link {
  readonly lines: readonly WhyLine[];
}

export function Why({ page }: { page: BuildPage }): Html | null {
  const links = linksOf(page.forecast.why ?? []);
  if (links.length === 0) return null;
  const hidden = links.length - 2 * SHOWN_EACH_END;
  const fold = hidden > 1;
  const [top, rest] = fold ? [links.slice(0, SHOWN_EACH_END), links.slice(-SHOWN_EACH_END)] : [links, []];
  const middle = fold ? links.slice(SHOWN_EACH_END, -SHOWN_EACH_END) : [];
  return (
    <section class="why" aria-labelledby="why-title">
      <h2 id="why-title">{say.heading}</h2>
      <p class="quiet small">{say.note}</p>
      <ol class="chain">
        <Links page={page} links={top} first={1} />
        {middle.length === 0 ? null : (
          <li class="chain-fold" value={SHOWN_EACH_END + 1}>
            <details>
              <summary>{say.more(middle.length)}</summary>
              <ol class="chain">
                <Links page={page} links={middle} first={SHOWN_EACH_END + 1} />
              </ol>
            </details>
          </li>
        )}
        <Links page={page} links={rest} first={links.length - rest.length + 1} />
      </ol>
      <Foot page={page} />
    </section>
  );
}

function Foot({ page }: { page: BuildPage }): Html | null {
  const { finish } = page.forecast.room.readyBy;
  if (finish === null) return null;
  return (
    <p class="chain-foot">
      <span class="stamp stamp-s">{soonText(page.clock, finish, page.forecast.now)}</span> {say.ready}
    </p>
  );
}

/** From the first thing that waited for a person's hands on, what waits for the same hands belongs to it. */
function linksOf(lines: readonly WhyLine[]): Link[] {
  const links: WhyLine[][] = [];
  for (const line of lines) {
    const last = links.at(-1)?.at(-1);
    const { kind, who } = line.waited;
    if (kind === 'hands' && last?.waited.kind === 'hands' && last.waited.who === who) links.at(-1)!.push(line);
    else links.push([line]);
  }
  return links.flatMap((own) =>
    own.length < FEWEST_MERGED ? own.map((line) => ({ lines: [line] })) : [{ lines: own }],
  );
}

function Links({ page, links, first }: { page: BuildPage; links: readonly Link[]; first: number }): Html {
  return (
    <ListInTurns>
      {links.map((link, i) => (
        <li key={first + i} value={first + i}>
          {link.lines.length === 1 ? (
            <Line page={page} line={link.lines[0]!} />
          ) : (
            <Busy page={page} lines={link.lines} />
          )}
        </li>
      ))}
    </ListInTurns>
  );
}

function Line({ page, line }: { page: BuildPage; line: WhyLine }): Html {
  const { step, what, cause } = whyWords(page.forecast, page.clock, line);
  return (
    <>
      <span class="chain-when">{soonText(page.clock, line.start, page.forecast.now)}</span> <strong>{step}</strong>
      {what === '' ? null : `, ${what}`}
      <span class="chain-cause quiet">{cause}</span>
    </>
  );
}

/** One pair of hands that goes from thing to thing, with each of them folded away. */
function Busy({ page, lines }: { page: BuildPage; lines: readonly WhyLine[] }): Html {
  const { forecast, clock } = page;
  const names = [...new Set(lines.map((line) => whyWords(forecast, clock, line).step))];
  const shown = lines.slice(0, MOST_LINES);
  return (
    <>
      <span class="chain-when">{soonText(clock, lines[0]!.start, forecast.now)}</span>{' '}
      <strong>{say.busy(lines[0]!.waited.who ?? '')}</strong>
      <span class="chain-cause quiet">{names.join(', ')}</span>
      <details>
        <summary>{say.lots(lines.length)}</summary>
        <ul class="chain-lots">
          {shown.map((line) => (
            <li key={line.start}>
              <Line page={page} line={line} />
            </li>
          ))}
        </ul>
        {shown.length < lines.length ? <p class="quiet small">{say.beyond(lines.length - shown.length)}</p> : null}
      </details>
    </>
  );
}
