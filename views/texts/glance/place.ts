/** The words for moving a thing in its list. */
import { worded } from '../../../server/model/texts/language.ts';

export const placeTexts = worded({
  label: 'Place in the list',
  stays: 'stays where it is',
  before: (name: string) => `before ${name}`,
  end: 'at the end',
  unknown: (named: string) => `This list has no “${named}” to move it before; choose from the list.`,
});
