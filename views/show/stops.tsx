/** What could stop the show, in sentences. */
import type { ShowStop } from '../../server/model/index.ts';
import { type Html, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { missingTexts } from '../words/missing-words.ts';
import { figure, lengthText, soonText } from '../words/wording.ts';
import { AnswerForm } from './proposals.tsx';
import type { ShowSection } from './show-props.ts';
import { nameOf, partName, unitsTexts } from './show-words.ts';

const say = showTexts.stops;

export function Stops({ page, show, href }: ShowSection): Html {
  const missing = missingTexts(page.forecast);
  return (
    <section class="show-part" aria-labelledby="stops-title">
      <div class="heading">
        <h2 id="stops-title">{say.heading}</h2>
      </div>
      {show.stops.length + missing.length === 0 ? <p>{say.none}</p> : null}
      <ul class="findings">
        {missing.map((text) => (
          <li key={text}>{text}</li>
        ))}
        <ListInTurns>
          {show.stops.map((stop) => (
            <Stop key={JSON.stringify(stop)} page={page} stop={stop} href={href} />
          ))}
        </ListInTurns>
      </ul>
    </section>
  );
}

function Stop({ page, stop, href }: Pick<ShowSection, 'page' | 'href'> & { readonly stop: ShowStop }): Html {
  return (
    <li>
      {stopText(page, stop)}
      {stop.code === 'no-power-on' ? (
        <AnswerForm page={page} proposal={{ code: 'power-on', of: stop.where }} href={href} answer="not-needed" />
      ) : null}
    </li>
  );
}

/** An open point as a sentence. */
export function stopText(page: BuildPage, stop: ShowStop): string {
  const { build, forecast, clock } = page;
  const step = (id: string): string => stepName(forecast, id);
  switch (stop.code) {
    case 'late':
      return say.late(lengthText(stop.by, 'up'));
    case 'no-spare':
      return say['no-spare'](partName(build, stop.part), stop.need);
    case 'unsigned':
      return say.unsigned(
        step(stop.step),
        texts.edit.choice.hazard[stop.hazard],
        stop.gate === null ? null : step(stop.gate),
      );
    case 'no-certificate':
      return say['no-certificate'](stop.step === null ? null : step(stop.step));
    case 'undecided': {
      const decision = forecast.decisions.find(({ id }) => id === stop.decision);
      const by = stop.by === null ? null : soonText(clock, stop.by, forecast.now);
      if (decision?.settles !== undefined) return say.unsettled(decision.settles, by);
      return say.undecided(decision?.question ?? stop.decision, by);
    }
    case 'gate-open':
      return say['gate-open'](step(stop.gate), stop.left);
    case 'no-power-on':
      return stop.where === 'venue' ? say['no-power-on'].venue : noPowerOnAtHome(page);
    case 'point-over':
      return say['point-over'](nameOf(build.points, stop.point), kilograms(stop.by));
    case 'point-unsigned':
      return say['point-unsigned'](stop.points.map((id) => nameOf(build.points, id)));
    case 'no-fit':
      return say['no-fit'](
        nameOf(build.boxes, stop.box),
        nameOf(build.passages, stop.passage),
        showTexts.ways.sides[stop.side],
        `${figure(stop.by)}\u00a0mm`,
      );
    case 'overloaded':
      return say.overloaded(nameOf(build.passages, stop.passage), kilograms(stop.by));
    case 'unpacked':
      return say.unpacked(unitsTexts(build, stop).join(', '));
  }
}

/** What can still be done about it: nothing at home once the load-in has begun. */
function noPowerOnAtHome({ forecast, clock }: BuildPage): string {
  const { now, loadIn, event } = forecast;
  const until = loadIn ?? event;
  const [open, hasLoadIn] = [say['no-power-on'].home, loadIn !== null];
  if (now >= until) return open;
  return `${open} ${(clock.daysApart(now, until) > 0 ? say.powerOnSoon : say.powerOnNow)(hasLoadIn)}`;
}

function kilograms(weight: number): string {
  return showTexts.pack.weight(figure(weight, 1));
}
