/** The jobs after the event. */
import type { StrikeLine } from '../../server/model/index.ts';
import { ThingList } from '../parts/step-lists.tsx';
import type { Html } from '../render.ts';
import { listOf } from '../texts/grammar.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { hoursText, whenText } from '../words/wording.ts';
import type { ShowSection } from './show-props.ts';
import { nameOf } from './show-words.ts';

const say = showTexts.strike;

export function StrikeList({ page, open, href, show }: ShowSection): Html {
  const isCounted = show.strike.length > 0;
  const note = page.build.strikeFrom === undefined ? `${say.note} ${say.fromEvent}` : say.note;
  return (
    <div class="show-part">
      <ThingList
        page={page}
        open={open}
        href={href}
        list="strike"
        title={say.heading}
        {...(isCounted ? { note } : {})}
        none={say.none}
        things={(page.build.strike ?? []).map((job) => [
          job.id,
          job.name,
          <Line key="line" page={page} line={show.strike.find(({ id }) => id === job.id)} />,
        ])}
      />
      {isCounted ? <p>{say.end(whenText(page.clock, show.strike.at(-1)!.finish, page.forecast.now))}</p> : null}
    </div>
  );
}

function Line({ page, line }: { page: BuildPage; line: StrikeLine | undefined }): Html | null {
  if (line === undefined) return null;
  const { start, finish, people, who } = line;
  const hands = who.length === 0 ? say.hands(people) : listOf(who.map((id) => nameOf(page.build.people, id)));
  return (
    <>
      {whenText(page.clock, start, page.forecast.now)}, {say.line(hands, hoursText(finish - start))}
    </>
  );
}
