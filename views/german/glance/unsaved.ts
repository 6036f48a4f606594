/** What is said of forms that were left before they were saved, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { unsavedTexts } from '../../texts/glance/unsaved.ts';

inGerman(unsavedTexts, {
  left: 'Eingetippt und noch nicht gespeichert:',
});
