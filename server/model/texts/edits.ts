/** What is wrong with an edit of the plan, or with an option for it. */
import { changeTexts } from './changes.ts';

export const editTexts = {
  noBuild: (id: string) => `There is no build "${id}".`,
  notRemoved: 'This build is not among the removed ones any more; look at the list again.',
  idTaken: (id: string) => `There is a build "${id}" again; remove that one first, or keep it.`,
  taken: (id: string) =>
    `There is a build "${id}" already; give this one another id, remove the other first, or read the file over that plan on its History sheet.`,
  changedMeanwhile: (who: string, now: number, begun: number) =>
    `${who} has changed the build since you opened it: it is at edit ${now}, yours was begun on edit ${begun}.`,
  noEdit: (edit: number, last: number) => `There is no edit ${edit}; they are numbered 1 to ${last}.`,
  closed: {
    by: (who: string, when: string) =>
      `This build was closed by ${who} on ${when}: nothing of it can be changed or counted until it is reopened.`,
    notYet: 'A build is closed after its show, and its event is still to come.',
  },
  option: {
    noName: 'The option has no name yet; give it one, such as “Cams instead of cranks”.',
    longName: (length: number, most: number) => `The name is ${length} letters long; it may have ${most} at most.`,
    taken: (name: string) => `There is an option “${name}” already; add to it, or take another name.`,
    tooMany: (most: number) => `${most} options are kept at most; drop one first, or add to one of them.`,
    gone: 'This option is not there any more: it was adopted or dropped meanwhile.',
    nothing: 'This changes nothing, so there is nothing to keep.',
    isPlan: (name: string) => `“${name}” changes nothing: the plan is already so.`,
    thing: changeTexts.named,
    isGone: (name: string, what: string) => `“${name}” changes ${what}, which is not in the plan any more.`,
  },
  file: {
    ofAnother: (file: string, build: string) =>
      `The file is of the build "${file}", not of "${build}". Read it in on the page of all builds, or give it the id "${build}".`,
    same: 'The file says what the plan says already; nothing was changed.',
  },
  firstEdit: 'Edit 1 is where the build begins; there is nothing before it to go back to.',
} as const;
