/** The words of the sheet of keys for programs, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { keyTexts } from '../../texts/programs/keys.ts';

inGerman(keyTexts, {
  heading: 'Schlüssel für Programme',
  intro:
    'Eine Waage auf der Werkbank oder ein Zähler an einer Maschine kann selbst zählen. Mit einem Schlüssel meldet ein solches Programm fertige Stücke und Ausschuss dieses Baus und liest von seinen Schritten Kennung, Name und was noch übrig ist; sonst nichts.',
  name: 'Name des Programms, wie das Protokoll ihn zeigt',
  make: 'Schlüssel anlegen',
  made: (name) => `Schlüssel für ${name}. Du siehst ihn nur dieses eine Mal; trag ihn jetzt im Programm ein:`,
  keys: 'Schlüssel',
  none: 'Noch keine.',
  since: (when) => `seit ${when}`,
  used: (when) => `zuletzt benutzt ${when}`,
  neverUsed: 'nie benutzt',
  end: (name) => `Schlüssel für ${name} beenden`,
  endWord: 'Beenden',
  noKey: 'Diesen Schlüssel hat der Bau nicht, oder er ist beendet.',
  notReachable:
    'Nur Programme auf diesem Laptop erreichen Daywright. Starte es mit --lan, damit auch andere es können.',
  toHelpers: 'Schlüssel für Programme, die zählen',
  toPeople: 'Wer zählt',
  contents: 'Für eine Waage oder einen Zähler, der selbst meldet',
  problems: {
    name: 'Gib dem Schlüssel einen Namen mit 1 bis 40 Buchstaben, damit das Protokoll zeigt, welches Programm gezählt hat.',
    nameMaker: 'So heißt schon der Macher. Wähl einen anderen Namen.',
    nameTaken: (name) =>
      `Ein Helfer oder ein anderer Schlüssel dieses Baus heißt schon ${name}. Wähl einen anderen Namen.`,
  },
  refused: {
    kind: (kind) =>
      `Mit einem Schlüssel gehen nur Zählungen der Art "done" oder "scrapped"; einer dieser Einträge ist von der Art "${kind}", deshalb wurde keiner angenommen.`,
  },
  guide: {
    heading: 'Wie ein Programm zählt',
    read: 'Es liest die Schritte, um ihre Kennungen zu erfahren:',
    post: 'Es meldet bei einem davon 3 fertige Stücke:',
    answered: 'Die Antwort enthält für jeden Eintrag eine Quittung, nach seiner Kennung:',
    again:
      'Das Programm bildet für jeden Eintrag eine eigene Kennung aus 8 bis 64 Buchstaben, Ziffern, Bindestrichen oder Unterstrichen. Kommt keine Antwort, schickt es denselben Eintrag noch einmal mit derselben Kennung: Er zählt nur einmal. Eine Quittung „refused“ sagt, warum, und dann wurde nichts gezählt.',
    keep: 'Ein Programm hebt auf, was nicht mit 200 beantwortet wurde, und versucht es später wieder. 401: Der Schlüssel ist beendet. 403: Das darf ein Schlüssel nicht. 423: Der Bau ist abgeschlossen. 429: zu oft; warte so lange, wie retry-after sagt.',
    described: 'Jede Adresse mit ihren Antworten, als OpenAPI-Beschreibung:',
  },
});
