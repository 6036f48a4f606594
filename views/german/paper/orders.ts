/** The words of the Orders sheet, of what is missing this week, and of what things cost, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { someOf } from '../../texts/grammar.ts';
import { moneyTexts, orderTexts } from '../../texts/paper/orders.ts';

inGerman(orderTexts, {
  intro:
    'Was von außen kommt: wie viel, von wem, der letzte Moment zum Bestellen, und was schon da ist. Letzte Momente verschieben sich mit jeder Zählung und Änderung um Stunden: lass Spielraum. Jeder liegt in jemandes Stunden, also vielleicht am Abend vor dem Bestellschluss.',
  nothing: 'Nichts wird gekauft oder außer Haus gegeben.',
  groups: { order: 'Zu bestellen', way: 'Unterwegs', nobody: 'Ohne Lieferant', here: 'Da' },
  nobodyNote:
    'Der Plan nimmt an, dass es schon da ist. Nenn einen Lieferanten oder leg einen Schritt mit Lieferzeit an.',
  from: (supplier) => `Von ${supplier}`,
  fromNobody: 'Noch ohne Lieferant',
  cutOff: (time) => `vor ${time} bestellt, geht es am selben Werktag ab, später am nächsten`,
  states: {
    'to-order': 'zu bestellen',
    late: 'zu spät, um rechtzeitig zu bestellen',
    ordered: 'bestellt',
    promised: 'zugesagt',
    'part-here': 'zum Teil da',
    here: 'da',
    nobody: 'ohne Lieferant',
  },
  ofUnit: (amount, unit) => `${amount}\u00a0${unit}`,
  pieces: (n, name) => `${n}\u00a0×\u00a0${name}`,
  measured: (amount, name) => `${amount} ${name}`,
  ofPacks: (many, size, name) => `${many ? 'Packungen' : 'Packung'} zu ${size} ${name}`,
  inPacks: (n, size) => `${someOf(n, 'Packung', 'Packungen')} zu ${size}`,
  needed: (amount) => `${amount} gebraucht`,
  spares: (amount) => `${amount} als Ersatz`,
  waste: (share) => `${share} Verschnitt`,
  onHand: (amount) => `${amount} vorrätig`,
  onHandWithWaste: (amount, usable) => `${amount} vorrätig, sie reichen für ${usable}`,
  notHere: (units, of) => `${units} von ${of} noch nicht da`,
  orderBy: (when) => `vor ${when} bestellen`,
  orderByPassed: (when) => `hätte bis ${when} bestellt sein müssen`,
  orderedBeforeStart: (late) => `hätte vor Baubeginn bestellt sein müssen: ${late}`,
  noDay: {
    working: (next) => `der Lieferant hat vor der Veranstaltung keinen Werktag mehr (der nächste ist ${next})`,
    delivery: (next) => `der Lieferant liefert vor der Veranstaltung nicht mehr (das nächste Mal ${next})`,
  },
  arrives: (when) => `da ${when}`,
  neededBy: (when) => `gebraucht ${when}`,
  out: (units, since, due, promised) => `${units}, bestellt ${since}, ${promised ? 'zugesagt für' : 'fällig'} ${due}`,
  noPrice: 'kein Preis',
  log: {
    ordered: 'Bestellt',
    received: 'Eingegangen',
    howMany: (name, isPacks) => `${isPacks ? 'Packungen' : 'Wie viele'}: ${name}`,
    undo: 'Zurücknehmen',
    said: {
      ordered: (units, when, who) => `${units} bestellt, eingetragen ${when} von ${who}`,
      received: (units, when, who) => `${units} eingegangen, eingetragen ${when} von ${who}`,
      promised: (_units, when, who) => `ein Termin zugesagt, eingetragen ${when} von ${who}`,
    },
  },
  refused: {
    step: (step) => `„${step}“ ist keine Bestellung dieses Baus; tipp auf eine der Bestellungen auf dieser Seite.`,
    kind: (kind) => `„${kind}“ lässt sich hier nicht eintragen; trag ein, was bestellt oder eingegangen ist.`,
    number: (value) => `„${value}“ ist keine Stückzahl; gib eine ganze Zahl von 1 bis 1\u202f000\u202f000 an.`,
    entry: (id) => `Es gibt keinen Eintrag „${id}“ zum Zurücknehmen.`,
  },
  loads: 'Ladungen der Maschinen',
  loadsNote: 'Platten, Tabletts und Bögen, eine Ladung nach der anderen.',
  loadLine: (left, total, machine, size, inIt) =>
    `${left} von ${someOf(total, 'Ladung', 'Ladungen')} übrig, auf ${machine}, ${size} in jeder${inIt === 0 ? '' : `, davon ${inIt} jetzt darin`}`,
  columns: {
    what: 'Was',
    supplier: 'Von',
    buy: 'Zu bestellen',
    orderBy: 'Bestellen vor',
    due: 'Da',
    state: 'Stand',
    cost: 'Kosten',
  },
  missing: (list) => `Fehlt diese Woche: ${list}.`,
  missingOrder: (what, when) => `${what} (vor ${when} bestellen)`,
  missingDue: (what, when) => `${what} (fällig ${when})`,
  missingMore: (n) => `${n} weitere`,
  nothingMissing: 'Nichts, was diese Woche gebraucht wird, fehlt.',
  toOrders: 'Alle Bestellungen',
  toMoney: 'Was alles kostet',
  asTable: 'Als Tabelle speichern (CSV)',
});

inGerman(moneyTexts, {
  heading: 'Geld',
  intro:
    'Gebunden: was bestellt oder gekommen ist, Teile, die hier schon angefangen sind, und die bezahlten Stunden bis jetzt. Der Rest kommt noch.',
  committed: 'Gebunden',
  toCome: 'Kommt noch',
  contingency: (share) => `Zurückgehalten, ${share} von dem, was noch kommt`,
  total: 'Summe',
  beyond: (amount) =>
    `Die Teile kosten ${amount} mehr als im Entwurf: Manche waren Ausschuss oder wurden über den Bedarf hinaus begonnen oder bestellt.`,
  none: 'Noch hat nichts einen Preis. Gib Teilen unter Entwurf Kosten, Lieferanten und Leuten unter Hände.',
  unpriced: (names) => `Ohne Preis und deshalb nicht in der Summe: ${names}.`,
  kinds: {
    made: 'Hier gefertigt',
    bought: 'Gekauft',
    'sent-out': 'Außer Haus gegeben',
    express: 'Express',
    hours: 'Bezahlte Stunden',
  },
  subtotal: (kind) => `${kind}, zusammen`,
  hours: (soFar, toCome) => `${soFar} bis jetzt, ${toCome} kommen noch`,
  hoursNote: 'Wer bezahlt wird, bekommt alle eigenen Stunden an den Arbeitstagen bezahlt.',
  express: (name) => `Express: ${name}`,
  what: 'Was',
  toOrders: 'Bestellungen',
});
