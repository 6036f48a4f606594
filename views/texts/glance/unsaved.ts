/** What is said of forms that were left before they were saved. */
import { worded } from '../../../server/model/texts/language.ts';

export const unsavedTexts = worded({
  left: 'Typed and not saved yet:',
});
