/** What is asked about a count that may be a slip. */
export const questionTexts = {
  tooMany: (step: string, set: number | null, left: number, n: number) =>
    `"${step}"${set === null ? '' : `, set ${set},`} has ${left} left and this entry says ${n}: are there more than planned, or is it a slip?`,
  tooFew: (step: string, set: number | null, counted: number, n: number) =>
    `"${step}"${set === null ? '' : `, set ${set},`} has ${counted} counted as done and this entry takes ${n} of them back: were they counted, or is it a slip?`,
  twice: ({ first, second, n, kind }: LoggedTwice, step: string | null) =>
    `${first ?? 'Somebody'} and ${second ?? 'somebody'} both logged ${n === null ? `"${kind}"` : `${n} ${kind}`}${step === null ? '' : ` at "${step}"`} within a minute: one lot or two?`,
  undoneBefore: (who: string | null) => `${who ?? 'Somebody'} had taken that entry back before; it counts once.`,
  fullMachine: (machine: string, step: string, units: number, n: number) =>
    `Nobody has counted ${units} of "${step}" out of the machine "${machine}" yet, and this entry loads ${n}: does it hold all of them, is that count missing, or is it a slip?`,
} as const;

interface LoggedTwice {
  readonly first: string | null;
  readonly second: string | null;
  readonly n: number | null;
  readonly kind: string;
}
