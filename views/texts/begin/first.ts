/** The words of the form that starts a build: what is asked at once, and what is wrong with people and machines. */
import { worded } from '../../../server/model/texts/language.ts';

export const firstTexts = worded({
  who: 'Who helps',
  whoHint: 'you first; no hours: asked next',
  /** What is in the field to begin with. */
  me: 'Me',
  hours: 'Hours',
  hoursHint: 'evenings and weekend days, or Mon to Fri 18 to 22; Sat 9 to 17',
  others: 'More who help',
  othersHint: 'one a line with their hours, such as Jo: Sat 9 to 17',
  machines: 'Machines',
  machinesHint: 'Saw, Printer alone at night: “alone” needs nobody beside it',
  whoLacks: (hours: string) => `“Who helps” is empty, but there are hours: "${hours}". Put a name in, such as Me.`,
  hoursLack: (name: string) =>
    `“Hours” is empty, but “Who helps” is "${name}". Put hours in, such as evenings, or take the name out.`,
  lineLacks: (line: number, typed: string) =>
    `Line ${line}, "${typed}", is not a name with hours; write it like Jo: Sat 9 to 17.`,
  /** A problem of one of several lines or names, by its line. */
  atLine: (line: number, message: string) => `Line ${line}: ${message}`,
  machineLacks: (typed: string) => `"${typed}" has no name; write it like Printer alone at night.`,
});
