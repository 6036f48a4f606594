/** What is asked about a count that may be a slip. */
export const questionTexts = {
  tooMany: (step: string, set: number | undefined, left: number, n: number) =>
    `"${step}"${set === undefined ? '' : `, set ${set},`} has ${left} left and this entry says ${n}: are there more than planned, or is it a slip?`,
  twice: (first: string | undefined, second: string | undefined, what: string, step: string | undefined) =>
    `${first ?? 'Somebody'} and ${second ?? 'somebody'} both logged ${what}${step === undefined ? '' : ` at "${step}"`} within a minute: one lot or two?`,
  undoneBefore: (who: string | undefined) => `${who ?? 'Somebody'} had taken that entry back before; it counts once.`,
} as const;
