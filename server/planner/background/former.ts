/**
 * The plan of a forecast, for the next one to compare with, as the thread that answers requests holds it: as text,
 * which the thread that searched has written and others read. With thousands of lots either takes several turns.
 */
import { type KeptSchedule, keptScheduleOf } from '../../engine/index.ts';
import type { Forecast } from '../../model/index.ts';
import { isTurnOver, othersTurn } from '../../turns/turns.ts';

/** A schedule that only whoever plans with it reads. */
export interface WrittenSchedule {
  /** The JSON of a `KeptSchedule`. */
  readonly text: string;
}

type Planned = Pick<Forecast, 'lots' | 'steps'>;

/** By the lots of a forecast: the text that came with it. No forecast is ever changed. */
const known = new WeakMap<Forecast['lots'], WrittenSchedule>();

/** Lots that are written at once: some milliseconds. */
const LOTS_AT_ONCE = 1000;

/** Says what the schedule of a forecast is, as a thread has written it. */
export function knowSchedule(forecast: Forecast, text: string): Forecast {
  known.set(forecast.lots, { text });
  return forecast;
}

/** The schedule of a forecast, written where no thread has. */
export function writtenSchedule(planned: Planned): WrittenSchedule {
  return known.get(planned.lots) ?? keep(planned, [...somesOf(planned)]);
}

/** The same, in turns with others' work. */
export async function writtenInTurns(planned: Planned): Promise<WrittenSchedule> {
  const texts: string[] = [];
  if (!known.has(planned.lots)) {
    for (const some of somesOf(planned)) {
      texts.push(some);
      if (isTurnOver()) await othersTurn();
    }
  }
  return known.get(planned.lots) ?? keep(planned, texts);
}

/** The schedule itself. */
export function readSchedule(former: KeptSchedule | WrittenSchedule): KeptSchedule {
  return 'text' in former ? (JSON.parse(former.text) as KeptSchedule) : former;
}

/** Its text. */
export function textOfSchedule(former: KeptSchedule | WrittenSchedule): string {
  return 'text' in former ? former.text : JSON.stringify(former);
}

/** Some lots of the schedule after the other, without the brackets around all of them. */
function* somesOf({ lots, steps }: Planned): Generator<string> {
  for (let first = 0; first < lots.length; first += LOTS_AT_ONCE) {
    const some = keptScheduleOf({ lots: lots.slice(first, first + LOTS_AT_ONCE), steps });
    if (some.length > 0) yield JSON.stringify(some).slice(1, -1);
  }
}

function keep({ lots }: Planned, texts: readonly string[]): WrittenSchedule {
  const written = { text: `[${texts.join(',')}]` };
  known.set(lots, written);
  return written;
}
