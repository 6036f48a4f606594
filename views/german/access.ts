/** The pages on which the maker signs in and helpers join, and what is refused at the door, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { accessTexts } from '../texts/access.ts';

inGerman(accessTexts, {
  enterTitle: 'Wer ist da?',
  enterMaker: 'Dieses Daywright gehört zu einer Werkstatt. Wenn es deine ist, gib den Schlüssel des Machers ein.',
  enterKey: 'Schlüssel des Machers',
  enter: 'Anmelden',
  keyWhere:
    'Das Terminal hat den Schlüssel einmal gezeigt, als Daywright zum ersten Mal startete. Bei jedem Start zeigt es auch einen Link, der einmal funktioniert.',
  enterHelper: 'Helfer kommen mit einem Code dazu: Scanne den auf dem Bildschirm des Laptops, oder',
  typeCode: 'tipp ihn hier ein',
  joinTitle: 'Mitzählen',
  joinWords: 'Du kannst an einem Bau mitzählen. Dein Name?',
  code: 'Code',
  name: 'Dein Name',
  join: 'Mit dem Zählen anfangen',
  helpersTitle: 'Wer zählt',
  helpersWords:
    'Ein Helfer scannt das mit der Kamera des Handys und gibt einen Namen an. Helfer können an diesem Bau zählen und sonst nichts.',
  makeCode: 'Code anlegen',
  makeAnother: 'Noch einen Code anlegen',
  codeLasts: (minutes) => `Er gilt für eine Person, ${minutes} Minuten lang.`,
  orType: (address) => `Oder öffne ${address} und tipp ein:`,
  qrLabel: 'Code zum Scannen mit dem Handy',
  notReachable:
    'Nur dieser Laptop erreicht Daywright. Starte es mit --lan, damit auch Handys in diesem Netz es erreichen.',
  helpers: 'Helfer',
  noHelper: 'Diesen Helfer gibt es an diesem Bau nicht, oder sein Zugang wurde entfernt.',
  noHelpers: 'Noch ist niemand dazugekommen.',
  since: (when) => `seit ${when}`,
  ended: 'Zugang entfernt',
  end: (name) => `Zugang entfernen: ${name}`,
  endWord: 'Zugang entfernen',
  endCodes: 'Alle offenen Codes ungültig machen',
  signOut: 'Hier abmelden',
  refusedTitle: 'Nur für den Macher',
  keptHere:
    'Auf diesem Handy aufgehobene Zählungen: #. Keine geht verloren; das Handy schickt sie, sobald es wieder Zugang hat.',
  problems: {
    key: 'Falscher Schlüssel, oder ein Link von einem früheren Start.',
    unknownCode: 'Diesen Code hat niemand angelegt. Frag den Macher nach einem neuen.',
    expired: 'Dieser Code ist abgelaufen. Frag den Macher nach einem neuen.',
    usedUp: 'Dieser Code ist schon benutzt. Frag den Macher nach einem neuen.',
    nameTaken: (name) => `Ein anderer Helfer an diesem Bau heißt ${name}. Wähl einen anderen Namen.`,
    name: 'Gib einen Namen mit 1 bis 40 Buchstaben an, damit alle sehen, welche Zählungen deine sind.',
    nameMaker: 'So heißt schon der Macher. Wähl einen anderen Namen.',
  },
  toCount: 'Zurück zum Zählen',
  trust: 'Diesem Laptop vertrauen',
  trustWords:
    'Ein Handy öffnet die Seite nur dann ohne Netz, wenn es dem Zertifikat dieses Laptops vertraut. Lade es hier und installiere es auf dem Handy; die README zeigt, wie.',
  trustLoad: 'Zertifikat laden',
  refused: {
    name: (host) => `Dieses Daywright heißt nicht „${host}“. Starte es mit --name, um den Namen hinzuzufügen.`,
    tooMany: (seconds) => `Zu viele Anfragen. Warte ${seconds} s.`,
    otherSite: 'Diese Anfrage kam von einer anderen Website; nichts wurde geändert.',
    signIn: 'Melde dich erst an: mit dem Schlüssel des Machers, oder mit einem Code, wenn du beim Zählen hilfst.',
    makerOnly: 'Du kannst an einem Bau zählen; diese Seite ist für den Macher.',
    keyOnly: 'Dieser Schlüssel kann für seinen eigenen Bau zählen und dessen Schritte lesen, sonst nichts.',
    keyUnknown:
      'Diesen Schlüssel hat niemand angelegt, oder sein Bau wurde gelöscht. Der Macher kann einen neuen anlegen.',
    keyEnded: (name) =>
      `Der Macher hat den Schlüssel „${name}“ beendet. Nichts wurde gezählt; der Macher kann einen neuen anlegen.`,
  },
  terminal: {
    key: (key) => `Der Schlüssel des Machers, nur dieses eine Mal gezeigt: ${key}`,
    keep: 'Bewahre ihn dort auf, wo die Schlüssel des Transporters liegen.',
    signIn: (address) => `Als Macher anmelden (gilt einmal): ${address}`,
    join: (build) => `Ein Helfer kommt zu „${build}“ dazu, wenn er das binnen 15 Minuten scannt:`,
  },
});
