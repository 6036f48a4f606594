/** The words of a build that is closed after its show, and reopened, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { closingTexts } from '../../texts/paper/closing.ts';

inGerman(closingTexts, {
  heading: 'Den Bau abschließen',
  note: 'Ein abgeschlossener Bau lässt sich auf jedem Blatt lesen, aber nichts an ihm wird geändert oder gezählt, und nichts wird mehr ausgerechnet. Sein Kalender bleibt, ohne Alarme. Hier kannst du ihn jederzeit wieder öffnen.',
  notYet: 'Der Bau lässt sich abschließen, sobald seine Veranstaltung vorbei ist.',
  close: (name) => `${name} abschließen`,
  reopen: (name) => `${name} wieder öffnen`,
  line: (who, when) =>
    `Abgeschlossen von ${who}, ${when}. Hier lässt sich nichts ändern oder zählen, bis der Bau am Fuß von „Danach“ wieder geöffnet wird.`,
  after: 'Ein abgeschlossener Bau kann zum Lesen bleiben oder entfernt werden: Sichere vorher seine Datei.',
  file: 'Den Bau und sein Protokoll als Datei sichern',
  inList: 'abgeschlossen',
});
