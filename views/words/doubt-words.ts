/** What should be looked at, and what is said of a pace, in sentences, for pages and for the terminal. */
import type { Doubt, Forecast, ForecastRunTime, PaceNote } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';
import { stepName } from './marks.tsx';
import { lengthText, paceLength, percent, twoFigures, whenText } from './wording.ts';

const say = texts.doubts;
const sayPace = texts.pace;

/** A doubt as its sentences. */
export function doubtText(forecast: Forecast, clock: WallClock, doubt: Doubt): string {
  const when = (instant: number) => whenText(clock, instant, forecast.now);
  switch (doubt.code) {
    case 'nothing-logged':
      return say.nothingLogged(when(doubt.values.start));
    case 'wrong-clock': {
      const { entries, at, kind, lies } = doubt.values;
      return say.wrongClock(entries, say.lies[lies], when(at), kind);
    }
    case 'log-gap': {
      const { from, to, minutes } = doubt.values;
      return say.gap(when(from), to === null ? null : when(to), lengthText(minutes));
    }
    case 'same-name': {
      const { list, ids, name } = doubt.values;
      return say.sameName(list, ids, name);
    }
    case 'scrapped-parts': {
      const { step, units, part, asked, spares } = doubt.values;
      return say.scrap(stepName(forecast, step), units, part, asked, spares);
    }
    case 'passed-more': {
      const { step, counted, later, passed } = doubt.values;
      return say.passedMore(stepName(forecast, step), counted, stepName(forecast, later), passed);
    }
    case 'nobody-loads': {
      const { steps, runs, first } = doubt.values;
      const names = steps.map((step) => stepName(forecast, step));
      return say.nobodyLoads(names, runs, when(first));
    }
    case 'gate-chance':
      return say.gate[doubt.values.fails](doubt.values.name);
    case 'no-hours':
      return say.noHours(when(doubt.values.readyBy));
    case 'far-pace': {
      const { step, notes } = doubt.values;
      return say.farPace(stepName(forecast, step), paceText(forecast, clock, notes) ?? '');
    }
  }
}

/** What is to be said of a pace; null where all is as expected. */
export function paceText(forecast: Pick<Forecast, 'now'>, clock: WallClock, notes: readonly PaceNote[]): string | null {
  return notes.length === 0 ? null : notes.map((note) => noteText(forecast, clock, note)).join(' ');
}

function noteText({ now }: Pick<Forecast, 'now'>, clock: WallClock, note: PaceNote): string {
  switch (note.code) {
    case 'far':
      return farText(note);
    case 'changed':
      return sayPace.changed(whenText(clock, note.at, now), paceLength(note.before), paceLength(note.since));
    case 'learnt':
      return sayPace.learnt(note.counts, percent(note.rate), note.given < 1 ? percent(note.given) : null);
    case 'stands-out': {
      const { at, units, minutes, others, weight } = note;
      const each = minutes / units;
      const [whole, one, rest] = [minutes, each, others].map(paceLength);
      const question = each > others ? sayPace.slower : sayPace.faster;
      const share = weight < 0.01 ? null : percent(weight);
      return `${sayPace.standsOut(whenText(clock, at, now), units, whole!, one!, rest!)} ${sayPace.weighs(share)} ${question}`;
    }
    case 'load-stands-out': {
      const { at, units, minutes, others, weight } = note;
      const [own, usual] = [minutes, others].map((length) => lengthText(Math.round(length)));
      const question = minutes > others ? sayPace.emptiedLate : sayPace.loadedLate;
      const share = weight < 0.01 ? null : percent(weight);
      return `${sayPace.loadStandsOut(whenText(clock, at, now), units, own!, usual!)} ${sayPace.weighs(share)} ${question}`;
    }
    case 'untimed':
      return sayPace.untimed(note.units);
  }
}

/** A run that is planned shorter than this share of its time until it was counted is taken to have ended before. */
const COUNTED_LATE = 0.97;

/** What the loads of a step say of its runs or its waits; null where nothing was learnt. */
export function runTimeText(
  forecast: Pick<Forecast, 'now'>,
  clock: WallClock,
  time: ForecastRunTime | undefined,
): string | null {
  if (time === undefined) return null;
  const [counted, estimate, minutes, low, high] = [time.counted, time.estimate, time.minutes, time.low, time.high].map(
    (length) => lengthText(Math.round(length)),
  );
  const said = sayPace.runTime[time.kind](time.loads, counted!, estimate!);
  const late = time.minutes < COUNTED_LATE * time.counted ? sayPace.endedBefore(time.loads) : null;
  const notes = paceText(forecast, clock, time.notes);
  return [said, sayPace.runPlanned(minutes!, low!, high!), late, notes].filter((text) => text !== null).join(' ');
}

function farText({ units, each, expected, asked }: Extract<PaceNote, { code: 'far' }>): string {
  const times =
    each > expected ? sayPace.longer(twoFigures(each / expected)) : sayPace.shorter(percent(each / expected));
  const said = sayPace.far(units, paceLength(each), paceLength(expected), times);
  return asked ? `${said} ${sayPace.asked}` : said;
}
