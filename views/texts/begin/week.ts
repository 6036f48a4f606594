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
  /** What a pick puts into the field. */
  hours: {
    evenings: 'Mon to Fri 18:00 to 22:00',
    weekend: 'Sat, Sun 09:00 to 18:00',
    working: 'Mon to Fri 09:00 to 17:00',
    daytime: 'daily 07:00 to 22:00',
    always: 'always',
  },
  adds: (hours: string) => ` (${hours})`,
  draw: 'Draw the week',
  drawNote: 'Tick the hours, or draw over them. Save takes what is drawn. For half hours, type them above.',
  hour: (day: string, hour: string) => `${day} ${hour}:00`,
});
