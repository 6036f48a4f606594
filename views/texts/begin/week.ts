/** The words of a week of hours that is picked or drawn. */
import { worded } from '../../language.ts';

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
  drawNote: 'Tick the hours, or draw over them. Save takes what is drawn. For half hours, type them above.',
  hour: (day: string, hour: string) => `${day} ${hour}:00`,
});
