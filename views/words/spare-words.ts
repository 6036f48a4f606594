/** What stops the show if it breaks: parts with fewer to spare than are wanted. */
import type { Forecast, ForecastPart } from '../../server/model/index.ts';

interface SpareRow {
  readonly part: ForecastPart;
  /** To spare, and how many should be; 1 where nobody has said how many fail. */
  readonly has: number;
  readonly wanted: number;
  /** The last moment for one more; null where it is made here, or where it is too late. */
  readonly by: number | null;
  /** Minutes from now until one more is here, and until the ready-by. */
  readonly leadMinutes: number | null;
  readonly leftMinutes: number;
}

/** Parts of the piece with fewer to spare than are wanted, the earliest last moment first, those made here last. */
export function spareRows({ parts, now, readyBy }: Forecast): SpareRow[] {
  const rows = parts.flatMap((part): SpareRow[] => {
    const { need, spares, toSpare: has = spares, sparesWanted: wanted = 1, againAt } = part;
    if (
      part.measure !== undefined ||
      need === 0 ||
      has >= wanted ||
      (part.source === 'make' && part.sparesWanted === undefined)
    )
      return [];
    const leadMinutes = againAt == null ? null : againAt - now;
    return [{ part, has, wanted, by: part.spareBy ?? null, leadMinutes, leftMinutes: readyBy - now }];
  });
  const rank = ({ by }: SpareRow) => by ?? Number.POSITIVE_INFINITY;
  return rows.sort((a, b) => rank(a) - rank(b));
}
