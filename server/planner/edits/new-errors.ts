/** The errors that an edit adds to those that a build had before. */
import { type Build, type Forecast, isError, type Problem } from '../../model/index.ts';

/**
 * Errors that were not there before the edit, by what and where. A build that has errors already may still be edited.
 * What was computed a while ago may lack an error that only time brought (an event gone by), so doubt is settled by
 * computing it.
 */
export async function addedErrors(
  after: Forecast,
  before: Forecast | null,
  computeBefore: () => Promise<Forecast>,
): Promise<Problem[]> {
  const errors = after.problems.filter(isError);
  if (errors.length === 0) return [];
  const unknown = before ? without(errors, before.problems) : errors;
  return unknown.length === 0 ? [] : without(unknown, (await computeBefore()).problems);
}

/** Errors of a forecast that another of the same instant does not have. */
export function newErrors(after: Forecast, before: Forecast): Problem[] {
  return without(after.problems.filter(isError), before.problems);
}

/**
 * An event that is past is said again when more is asked of a build that was done: that edit is not to blame for it.
 */
export function movesEvent(before: Build, after: Build): boolean {
  return before.event !== after.event || before.zone !== after.zone;
}

function without(problems: readonly Problem[], known: readonly Problem[]): Problem[] {
  const keys = new Set(known.filter(isError).map(keyOf));
  return problems.filter((p) => !keys.has(keyOf(p)));
}

function keyOf({ code, field }: Problem): string {
  return `${code} ${field}`;
}
