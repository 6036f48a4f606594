/** The words for moving a thing in its list, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { placeTexts } from '../../texts/glance/place.ts';

inGerman(placeTexts, {
  label: 'Platz in der Liste',
  stays: 'bleibt, wo es ist',
  before: (name) => `vor ${name}`,
  end: 'am Ende',
  unknown: (named) => `In dieser Liste gibt es kein „${named}“, vor das es rücken könnte; wähle aus der Liste.`,
});
