/** The words of a week of hours that is picked or drawn. */
import { worded } from '../../../server/model/texts/language.ts';

export const weekTexts = worded({
  picks: 'Add',
  pick: {
    evenings: 'Evenings',
    weekend: 'Weekend days',
    working: 'Working days',
    daytime: 'Daytime',
    always: 'Always',
  },
  adds: (hours: string) => ` (${hours})`,
  draw: 'Draw the week',
  drawNote:
    'Draw along a day, by the quarter hour, or across several days at once; draw over hours to take them out. A tap takes a whole hour.',
  hour: (day: string, hour: string) => `${day} ${hour}:00`,
});
