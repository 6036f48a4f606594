/** The sentences for edits that are refused, ready to be put into another language. */
export const editTexts = {
  noBuild: (id: string) => `There is no build "${id}".`,
  taken: (id: string) => `There is a build "${id}" already; give this one another id, or remove the other first.`,
  changedMeanwhile: (who: string, now: number, begun: number) =>
    `${who} has changed the build since you opened it: it is at edit ${now}, yours was begun on edit ${begun}.`,
  noEdit: (edit: number, last: number) => `There is no edit ${edit}; they are numbered 1 to ${last}.`,
  firstEdit: 'Edit 1 is where the build begins; there is nothing before it to go back to.',
};
