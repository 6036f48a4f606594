/** The sentences for what the plan keeps and uses, but somebody should look at, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { doubtTexts, paceTexts } from '../texts/doubts.ts';
import { byNumber, listOf, some } from '../texts/grammar.ts';

/** Lists of a build, and kinds of log entries, as a reader knows them. */
const LISTS: Readonly<Record<string, string>> = {
  people: 'Leute',
  machines: 'Maschinen',
  suppliers: 'Lieferanten',
};
const KINDS: Readonly<Record<string, string>> = {
  done: 'fertig',
  scrapped: 'Ausschuss',
  loaded: 'geladen',
  ordered: 'bestellt',
  promised: 'zugesagt',
  received: 'eingegangen',
  passed: 'bestanden',
  failed: 'nicht bestanden',
  'sent-back': 'zurückgegeben',
  began: 'Uhr gestartet',
  paused: 'Uhr angehalten',
  lost: 'Zeit verloren',
  packed: 'gepackt',
  undo: 'zurückgenommen',
  confirmed: 'bestätigt',
};

inGerman(doubtTexts, {
  nothingLogged: (when) =>
    `Noch ist nichts eingetragen, und der Bau hat ${when} begonnen. Jedes Tempo ist noch eine Schätzung, und alle Stücke zählen als übrig. Trag ein, was fertig ist.`,
  wrongClock: (entries, which, when, kind) =>
    `${byNumber(entries, `Ein Eintrag (${when}, „${KINDS[kind] ?? kind}“) ist`, `${entries} Einträge (der erste ${when}, „${KINDS[kind] ?? kind}“) sind`)} ${which}: Die Uhr des Handys ging falsch. Die Zahl gilt, die Zeit nicht. Nimm ${byNumber(entries, 'ihn', 'sie')} zurück und trag es noch einmal ein.`,
  lies: { ahead: 'aus der Zukunft', before: 'aus der Zeit mehr als 30 Tage vor Baubeginn' },
  gap: (from, to, length) =>
    `Von ${from} bis ${to ?? 'jetzt'} ist nichts eingetragen (${length}). Der Plan nimmt diese Zeit weder als Arbeit noch als verloren. Gingen Tage verloren, trag sie ein; hast du Stücke gefertigt, zähl sie.`,
  sameName: (list, ids, name) =>
    `Die ${LISTS[list] ?? list} ${ids.map((id) => `„${id}“`).join(' und ')} heißen ${ids.length === 2 ? 'beide' : 'alle'} „${name}“, deshalb kann sie niemand auseinanderhalten. Ändere ${ids.length === 2 ? 'einen der Namen' : 'alle Namen bis auf einen'}.`,
  scrap: (step, units, part, asked, spares) =>
    `„${step}“ muss ${units} Stück mehr fertigen, weil dort oder später ${byNumber(units, 'eines', `${units}`)} Ausschuss ${byNumber(units, 'wurde', 'wurden')}. Das braucht ${asked} × ${part} mehr, und ${byNumber(spares, '1 ist', `${spares} sind`)} als Ersatz da. Gingen sie mit dem Ausschuss verloren, setz den Ersatz auf ${asked}; hast du sie gerettet, lass es so.`,
  passedMore: (step, counted, later, passed) =>
    `„${step}“: ${counted} gezählt, aber ${passed} sind durch „${later}“ danach. Wenn es sie gibt, zähl bei „${step}“ noch ${passed - counted}; bis dahin fertigt der Plan sie.`,
  nobodyLoads: (steps, runs, first) =>
    `Der Plan beginnt ${some(runs, 'Lauf', 'Läufe')} von ${listOf(steps.map((step) => `„${step}“`))}, während niemand da ist (den ersten ${first}), weil im Arbeitsablauf keine Hände vorkommen. Wenn jemand belädt, setz Hände vor und nach den Lauf, etwa 5 min; wenn es sich selbst belädt, setz Hände von 0 min davor.`,
  gate: {
    always: (name) =>
      `„${name}“ ist so angegeben, dass die Prüfung nie bestanden wird (Chance 1), deshalb sagt der Termin nichts. Gib den Anteil an, der wirklich nicht besteht, etwa 0,2.`,
    never: (name) =>
      `„${name}“ ist so angegeben, dass die Prüfung immer bestanden wird (Chance 0), deshalb lässt der Plan keine Zeit, es zu beheben und noch einmal zu versuchen. Wenn sie scheitern kann, gib eine kleine Chance an, etwa 0,05.`,
  },
  noHours: (readyBy) =>
    `Zwischen jetzt und dem Fertigtermin (${readyBy}) hat niemand Stunden, deshalb wird keine Handarbeit rechtzeitig fertig. Gib jemandem Stunden, oder verschieb den Fertigtermin.`,
  farPace: (step, notes) => `„${step}“: ${notes}`,
});

inGerman(paceTexts, {
  far: (units, each, expected, times) =>
    `${units} Stück ${byNumber(units, 'brauchte', 'brauchten')} je ${each}; erwartet waren ${expected} (${times}). Der Plan nimmt, was gezählt wurde.`,
  longer: (times) => `${times}-mal so lang`,
  shorter: (percent) => `${percent} davon`,
  asked: 'Stimmt das? Wenn nicht, nimm die Zählung zurück, oder halte die Uhr an, wenn niemand arbeitet.',
  changed: (when, before, since) =>
    `Vor ${when} hat sich das Tempo geändert, von ${before} auf ${since} je Stück. Zählungen seitdem wiegen mehr.`,
  learnt: (counts, percent, given) =>
    `Nach ${some(counts, 'Zählung', 'Zählungen')}: Jede Verdopplung der Stückzahl senkt die Zeit für ein Stück auf ${percent} (${given === null ? 'angegeben war keine Einarbeitung' : `angegeben waren ${given}`}).`,
  runTime: {
    run: (loads, counted, estimate) =>
      `${some(loads, 'Ladung brauchte', 'Ladungen brauchten')} vom Laden bis zum Zählen ${counted}; erwartet waren ${estimate}.`,
    wait: (loads, counted, estimate) =>
      `${some(loads, 'Wartezeit dauerte', 'Wartezeiten dauerten')} ${counted}; erwartet waren ${estimate}.`,
  },
  runPlanned: (minutes, low, high) => `Der Plan nimmt ${minutes} (wahrscheinlich ${low} bis ${high}).`,
  endedBefore: (loads) =>
    loads === 1
      ? 'Sie kann geendet haben, bevor sie gezählt wurde.'
      : 'Manche können geendet haben, bevor sie gezählt wurden.',
  loadStandsOut: (when, units, minutes, others) =>
    `Die Ladung, gezählt ${when}, fällt auf: ${units} Stück, ${minutes}; andere brauchten etwa ${others}.`,
  emptiedLate: 'Blieb sie nach dem Ende noch darin?',
  loadedLate: 'Wurde das Laden erst später eingetragen?',
  standsOut: (when, units, minutes, each, others) =>
    `Die Zählung von ${when} fällt auf: ${units} in ${minutes}, je ${each}; die anderen brauchten ${others}.`,
  weighs: (share) => `Sie bleibt, mit ${share ?? 'weniger als 1\u202f%'} ihres Gewichts.`,
  slower: 'Lief die Uhr weiter, oder hast du inzwischen etwas anderes getan?',
  faster: 'Waren einige davon schon vorher gefertigt?',
  untimed: (units) =>
    `${units} gezählt, in unbekannter Zeit: eine einzelne Zählung, alle auf einmal, oder nach einer Lücke, die für Arbeit zu lang ist. Das Tempo ist noch eine Schätzung. Starte die Uhr, oder zähl zweimal in einer Sitzung.`,
});
