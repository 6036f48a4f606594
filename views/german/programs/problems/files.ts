/** What is wrong with a file that should hold a build, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

inGerman(problemWords.files, {
  unreadable: (name, language, why) => `${name} ist kein ${language}: ${why}.`,
  tooDeep: 'es ist zu tief verschachtelt',
  sameKey: (key) => `ein Schlüssel darf nur einmal vorkommen; „${key}“ steht zweimal da`,
  tooLarge: (name, megabytes, most) =>
    `Der Bau in ${name} hat ${megabytes} MB; ohne Protokoll darf ein Bau höchstens ${most} MB haben. Teil ihn in mehrere auf.`,
  tooLongForYaml: (name, values, most) =>
    `${name} ist zu lang, um als YAML gelesen zu werden (etwa ${values.toLocaleString('de-DE')} Werte, höchstens ${most.toLocaleString('de-DE')}). Schreib die Datei als JSON.`,
  tooSlow: (name, seconds, megabytes) =>
    `${name} ließ sich mit ${megabytes} MB Speicher nicht in ${seconds} Sekunden lesen. Lass weg, was nicht zum Bau gehört, oder schreib die Datei als JSON.`,
});
