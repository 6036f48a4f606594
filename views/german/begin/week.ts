/** The words of a week of hours that is picked or drawn, in German. */

import { inGerman } from '../../language.ts';
import { weekTexts } from '../../texts/begin/week.ts';

inGerman(weekTexts, {
  picks: 'Dazu',
  pick: {
    evenings: 'Abende',
    weekend: 'Wochenende',
    working: 'Arbeitstage',
    daytime: 'Tagsüber',
    always: 'Immer',
  },
  adds: (hours) => ` (${hours})`,
  draw: 'Die Woche zeichnen',
  drawNote:
    'Hak die Stunden an oder zieh darüber. Speichern übernimmt die Zeichnung. Halbe Stunden tippst du oben ein.',
  hour: (day, hour) => `${day} ${hour}:00`,
});
