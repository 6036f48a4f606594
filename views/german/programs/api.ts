/** The words of the description of the API, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { apiTexts } from '../../texts/programs/api.ts';

inGerman(apiTexts, {
  title: 'Daywright',
  about:
    'Was ein Daywright als JSON sagt und annimmt. Programme zählen mit einem Schlüssel, den der Macher auf der Seite „Schlüssel für Programme“ anlegt; alles andere braucht die Sitzung des Machers oder eines Helfers. Jede Ablehnung ist ein Objekt mit einem Satz, „problem“.',
  key: 'Ein Schlüssel für einen Bau: Er darf Zählungen melden und die Schritte lesen. Der Macher kann ihn jederzeit beenden.',
  session:
    'Das Cookie eines Browsers, der sich angemeldet hat oder beigetreten ist; über HTTPS heißt es __Host-daywright.',
  build: 'Kennung des Baus, wie in seiner Adresse',
  mine: 'Wie viele der neuesten eigenen Einträge aufzuführen sind',
  operations: {
    steps: 'Die Schritte des Baus, bei denen Stücke gezählt werden, mit dem, was bei jedem noch übrig ist',
    count:
      'Meldet Einträge für das Protokoll; jeder zählt einmal, wie oft er auch mit derselben Kennung geschickt wird',
    counting: 'Alles, was die Seite Zählen zeigt',
    oldCounting: 'Für Zählseiten eines älteren Daywright: sagt, dass sie neu zu laden sind',
    forecast: 'Wann der Bau fertig ist, mit wie viel Luft; dasselbe, was daywright plan --json ausgibt',
    file: 'Der Bau und sein Protokoll als Baudatei',
    levers: 'Was Zeit bringen würde, wie zuletzt gesucht',
    ways: 'Fertigen oder außer Haus geben, Teil für Teil, wie zuletzt nebeneinandergelegt',
    manifest: 'Was die Seite Zählen zu einer App auf dem Startbildschirm eines Handys macht',
    openapi: 'Diese Beschreibung',
  },
  countsOnly: 'Mit einem Schlüssel: Einträge der Art „done“ oder „scrapped“. In einer Sitzung: Einträge jeder Art.',
  answer: 'Die Antwort',
  outline: 'Die Antwort; sie enthält mehr, als hier beschrieben ist, und das kann sich mit jeder Version ändern',
  errors: {
    '400': 'Was geschickt wurde, lässt sich nicht lesen; nichts wurde gezählt',
    '401': 'Niemand ist angemeldet, oder der Schlüssel ist unbekannt oder beendet',
    '403': 'Wer fragt, darf das nicht',
    '404': 'So einen Bau gibt es nicht',
    '410': 'Nicht mehr da',
    '413': 'Zu viele Einträge auf einmal oder zu viele Bytes',
    '415': 'Was geschickt wurde, ist kein JSON',
    '421': 'So heißt dieser Server nicht',
    '423':
      'Der Bau ist abgeschlossen; nichts wurde gezählt. Heb die Einträge auf und frag nach retry-after Sekunden wieder',
    '429': 'Zu oft; retry-after sagt, wie viele Sekunden zu warten ist',
    '503': 'Noch nicht ausgerechnet, oder die Platte hat nichts angenommen; komm nach retry-after Sekunden wieder',
  },
});
