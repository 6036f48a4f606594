/** The words of quick lines, in German. What is typed in a line is read in English, so the examples stay English. */

import { inGerman } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from '../texts/grammar.ts';
import { lineTexts } from '../texts/lines.ts';

inGerman(lineTexts, {
  heading: 'Kurze Zeilen',
  intro:
    'Schreib, was zu fertigen ist, ein Teil oder eine Arbeit je Zeile, mit den englischen Wörtern der Beispiele unten. Nichts wird gespeichert, bevor du es hinzufügst.',
  link: 'Kurze Zeilen: Teile und Schritte in Worten eintippen',
  field: 'Zeilen',
  read: 'Lesen',
  add: (n) => `${some(n, 'Zeile', 'Zeilen')} zum Bau hinzufügen`,
  understood: 'So verstanden',
  assumedCount: (n) =>
    n === 0
      ? 'Nichts wurde angenommen.'
      : `${some(n, 'Angabe wurde', 'Angaben wurden')} angenommen, jede mit ≈ markiert.`,
  notUnderstood: (clause) =>
    clause === ''
      ? 'Diese Zeile sagt noch nichts.'
      : `Nicht verstanden: „${clause}“. Diese Zeile wird nicht hinzugefügt.`,
  why: {
    'over-all': 'Eine Prüfung misslingt in höchstens 100 % der Fälle.',
    'nothing-to-test': 'Eine Prüfung kommt nach Arbeit: Füg zuerst die Zeilen der Arbeit hinzu.',
    'days-of-hands':
      'Tage gelten für Lieferanten und Wartezeiten: Nenne, wer es liefert („joiner, 5 days“), oder gib Handarbeit in Stunden an.',
    'no-comma': 'Setz ein Komma zwischen das Teil und die Arbeit daran: „40 rods, cut 2 min each“.',
    'each-of-what': 'Jedes wovon? Nenne ein Teil des Baus, etwa „hang slats 4 min each“, oder lass „each“ weg.',
    'no-number':
      'Es fehlt eine Zeit oder Zahl: Arbeit braucht eine Zeit („sand 5 min each“), ein Lieferant Tage („joiner, 5 days“), ein Teil eine Anzahl („4 frames“).',
    'clock-time': 'Stunden und Minuten oder Minuten und Sekunden? Schreib „3 h 20“ oder „3 min 20 s“.',
    dates:
      'Zeilen nehmen Dauern, keine Daten: Schreib, wie viele Werktage es dauert („joiner, 5 days“). Ein zugesagtes Datum trägst du ein, sobald bestellt ist.',
    bound: 'Schreib, wie lange es wahrscheinlich dauert, oder einen Bereich: „10 to 15 min“.',
    'spares-within':
      'Ist der Ersatz darin enthalten oder kommt er dazu? Schreib „27 hooks, 3 spares“ für insgesamt 30.',
    'part-in-part': 'Gib jedem Teil eine eigene Zeile: „6 tables“, dann „4 legs per table“.',
    'fails-each':
      'Wie viele davon werden gut? Schreib „95 % good“ vor die Arbeit, oder prüf das Ganze einmal („test 40 min“).',
    'each-measure': 'Gilt die Zeit je Meter oder Liter oder für alles? Schreib „5 min per m“ oder „40 min altogether“.',
    'after-a-time': 'Wie lange dauert die Arbeit selbst? Schreib das Warten davor: „cure 24 h, demould 10 min“.',
    altogether: 'Die Anzahl ergibt sich aus einer Formel, also braucht es die Zeit je Stück: „oil 3 min each“.',
    who: 'Diese Person ist nicht unter denen, die helfen. Füg sie zuerst unter Hände hinzu, oder lass den Namen weg.',
    thousands: 'Das kann über tausend oder ein Bruch sein: Schreib es ohne Komma oder Punkt, etwa 1160.',
  },
  refused: 'Diese Zeile passt nicht zum Bau:',
  tooMany: (most) => `Höchstens ${most} Zeilen auf einmal; füg den Rest danach hinzu.`,
  tooLong: (line, most) => `Zeile ${line} ist länger als ${most} Zeichen; teil sie auf.`,
  nobody:
    'Noch hilft niemand, und diese Arbeit braucht jemanden. Sag zuerst, wer wann hilft; deine Zeilen warten hier.',
  sayWho: 'Wer hilft',
  nothing: 'Keine Zeile wurde verstanden, also wurde nichts hinzugefügt.',
  nothingNew: 'Das alles ist schon im Bau.',
  added: (n) => `${some(n, 'Zeile ist', 'Zeilen sind')} im Bau.`,
  left: (n) =>
    `${some(n, 'Zeile wurde', 'Zeilen wurden')} nicht hinzugefügt und ${byNumber(n, 'steht', 'stehen')} noch hier.`,
  goOn: 'Sieh dir die Teile unter Entwurf und die Schritte unter Schritte an.',
  noSteps: (parts) => `Fehlt noch: wie man das fertigt: ${listOf(parts)}.`,
  unread: 'Nicht hinzugefügt',
  fact: {
    parameter: (name, value) => `${name} = ${value}, eine Zahl des Entwurfs`,
    part: (count, part) => `${count} × ${part}`,
    partIn: (count, part, parent) => `${count} × ${part} je „${parent}“`,
    spares: (n) => `${n} als Ersatz`,
    onHand: (n) => `${n} vorrätig`,
    packs: (n) => `in Packungen zu ${n}`,
    yield: (share) => `${share} werden gut`,
    cost: (each) => `je ${each}`,
    bought: (supplier, lead) => `gekauft bei ${supplier}, ${lead}`,
    sentOut: (supplier, lead) => `außer Haus gegeben an ${supplier}, ${lead}`,
    workingDays: (days) => `${days} ${days === '1' ? 'Werktag' : 'Werktage'}`,
    hands: (step, time) => `${step}: ${time}`,
    each: (time) => `je ${time}`,
    inAll: (time) => `insgesamt ${time}`,
    trial: (units, minutes) => `${units} in ${minutes}`,
    range: (low, high) => `${low} bis ${high}`,
    times: (n) => `${n} Mal`,
    people: (n) => `${some(n, 'Person', 'Leute')} zugleich`,
    run: (step, machine, time) => `${step} auf ${machine}: ${time}`,
    perLot: (time, lot) => `${time} für je ${lot} davon`,
    express: (supplier, lead) => `${supplier} per Express, ${lead}`,
    lead: (step, supplier, lead) => `${step}: bei ${supplier}, ${lead}`,
    loading: (step, load, unload, isNobody) =>
      isNobody
        ? `${step}: niemand belädt oder entlädt`
        : `${step}: jedes Mal ${load} zum Beladen und ${unload} zum Entladen`,
    who: (step, person) => `${step}: nur ${person}`,
    wait: (step, time) => `${step} wartet danach ${time}`,
    gate: (gate, time, after) => (after.length === 0 ? `${gate}: ${time}` : `${gate}: ${time}, nach ${listOf(after)}`),
    mayFail: (share) => `nicht bestanden: ${share}`,
    sendsBack: (units, step) => `dann gehen ${units} zurück zu ${step}`,
    strike: (job, time) => `nach der Veranstaltung, ${job}: ${time}`,
  },
  assumed: {
    each: (step) => `${step}: die Zeit gilt für jedes Stück`,
    lots: (step) => `${step}: Daywright wählt die Losgröße; schreib „in lots of 6“, um sie festzulegen`,
    sentOut: (part) => `${part} wird außer Haus gegeben; schreib „bought“, wenn du es kaufst`,
    unnamedSupplier: (part, supplier) =>
      `niemand ist genannt, der ${part} liefert; der Lieferant heißt „${supplier}“, bis du ihn umbenennst`,
    leadKept: (supplier, lead) =>
      `die Tage von ${supplier} bleiben, wie sie in diesem Bau sind, ${lead}; ändere sie unter Hände`,
    hoursMinutes: (said, time) => `„${said}“ heißt ${time}`,
    newMachine: (machine, unattended, overnight) =>
      unattended
        ? `${machine} ist eine neue Maschine, die unbeaufsichtigt läuft, ${overnight ? 'auch nachts' : 'nachts nicht'}`
        : `${machine} ist eine neue Maschine; jemand bleibt dabei, solange sie läuft`,
    loading: (step, load, unload) =>
      `${step}: jedes Mal belädt jemand ${load} und entlädt ${unload}; schreib „load 10 min“, „unload 2 min“ oder „nobody loads it“`,
    onMachine: (step, machine) => `${step} läuft auf ${machine}, der einzigen Maschine`,
    isWork: (words) => `„${words}“ ist Arbeit, kein Lieferant`,
    overNight: (step, time) => `${step}: „overnight“ heißt ${time}`,
    likelyMiddle: (what) => `${what}: wahrscheinlich ist die Mitte des Bereichs`,
    afterAll: (step, after) => `${step} kommt nach ${listOf(after)}`,
    testedOnce: (gate) => `${gate}: einmal für den ganzen Bau`,
    onSite: (step) => `${step} geschieht vor Ort, ab dem Aufbau`,
    hazards: (step, byName, byMachine) =>
      [
        ...(byName.length === 0 ? [] : [`${step} hat Gefährdungen, dem Namen nach: ${listOf(byName)}`]),
        ...(byMachine.length === 0 ? [] : [`${step} hat Gefährdungen, der Maschine nach: ${listOf(byMachine)}`]),
      ].join('; '),
  },
  help: 'Wie man Zeilen schreibt',
  examples: [
    ['5 rails', 'ein Teil und wie viele'],
    ['32 slats per rail, joiner, 5 days', 'was in ein anderes Teil kommt (per), wer es schickt, Werktage'],
    [
      '160 slats, sand 3 min each; oil 2 coats 4 min, dry 6 h',
      'was damit geschieht, der Reihe nach (each: je Stück; 2 coats: zweimal); Trocknen, das niemanden braucht',
    ],
    [
      '90 pulleys, on a plate of 6, 3 h 20 at night',
      'eine Maschine macht es, eine Platte nach der anderen (on a plate of), nachts (at night)',
    ],
    [
      '90 pulleys, print 6 in 3 h, load 10 min, unload 2 min',
      'die Minuten vor und nach jedem Lauf an der Maschine (load, unload)',
    ],
    ['40 cords, knot 18 in 45 min, 3 spares', 'ein gestoppter Versuch; Ersatz (spares)'],
    ['5 motors, bought from the drive shop, 3 to 7 days, €40 each', 'was du kaufst (bought from), und ein Preis'],
    [
      'test 40 min, may fail 20 %, 3 back to hang',
      'eine Prüfung von allem bis hierher, wie oft sie nicht bestanden wird (may fail) und was sie zurückgibt (back to)',
    ],
    ['pack 3 h with 2 people', 'eine eigene Arbeit, nach allem bis hierher, zu zweit (with 2 people)'],
    [
      'strike 2 h with 2 people',
      'eine Arbeit nach der Veranstaltung: abbauen (strike, take down) oder hinaustragen (carry out)',
    ],
    ['slats per rail = 32', 'eine Zahl des Entwurfs; „rails x slats_per_rail cords“ rechnet damit'],
  ],
  helpNote:
    'Trenne mit Kommas, Semikolons oder „then“, was eine Zeile sagt. Zahlen dürfen englische Wörter sein. Zeiten: 3 min, 45 s, 2h30, 3 h 20, 1,5 h, 3 to 5 min, 18 in 45 min, 4 an hour. Mengen: 25 m of cable, 2.5 L paint. Eine Zeile über ein Teil, das es schon gibt, ändert es. Gefährdungen sind nach Namen geschätzt: nimm am Schritt weg, was nicht zutrifft.',
});
