/** The words of a week of hours that is picked or drawn, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
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
    'Zieh einen Tag entlang, auf die Viertelstunde, oder quer über mehrere Tage; was schon da ist, nimmt ein Zug darüber weg. Ein Tippen nimmt eine ganze Stunde.',
  hour: (day, hour) => `${day} ${hour}:00`,
});
