/** What the server says in the terminal from which it is started, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

inGerman(problemWords.serving, {
  help: (
    port,
    host,
    file,
  ) => `Daywright plant den Bau eines einmaligen Stücks, das zu einer festen Stunde fertig sein muss.

  npm start                       die Seiten gibt es nur auf diesem Rechner
  npm start -- --lan              auch für Handys im selben Netz: Wer hilft, tritt mit einem Code zum Scannen bei

  --port PORT       Port, sonst PORT aus der Umgebung (sonst ${port}; 0 nimmt einen freien)
  --host HOST       Adresse, sonst DAYWRIGHT_HOST (sonst ${host}: nur dieser Rechner)
  --db FILE         Datenbankdatei, sonst DAYWRIGHT_DB (sonst ${file})
  --lan             dasselbe wie --host 0.0.0.0
  --name NAME       ein weiterer Name, unter dem Browser diesen Rechner rufen dürfen; darf mehrmals stehen
  --ask-key         nach dem Schlüssel des Machers fragen, auch wo nur dieser Rechner die Seiten erreicht (etwa hinter einem Proxy)
  --new-key         einen neuen Schlüssel des Machers machen, ihn einmal zeigen und die Sitzungen des Machers beenden
  --tls             über HTTPS mit einem Zertifikat, das beim ersten Start entsteht
  --tls-cert FILE   über HTTPS mit diesem Zertifikat (PEM) …
  --tls-key FILE    … und seinem Schlüssel
  --help            diese Seite
`,
  wrongPort: (field, text) => `${field} muss eine ganze Zahl von 0 bis 65535 sein; hier steht „${text}“.`,
  needsBeside: (has, lacks) => `${has} geht nur zusammen mit ${lacks}.`,
  sameTwice: '--lan und --host sagen zweimal dasselbe; gib eines davon an.',
  wrongFlags: (what) => `${what}. Was es gibt, zeigt --help.`,
  seeded: (names) => `Die Datenbank war leer: Die Demo „${names.replaceAll('", "', '“, „')}“ ist jetzt darin.`,
  at: (addresses) => `Daywright läuft auf ${addresses} (Strg-C hält es an)`,
  portInUse: (port) => `Port ${port} ist belegt; beende, was dort läuft, oder wähl mit --port einen anderen.`,
  portForbidden: (port) => `Port ${port} ist nicht erlaubt; wähl einen über 1023.`,
  cannotListen: (host, port, why) => `Auf ${host}, Port ${port}, geht es nicht: ${why}.`,
  fileUnread: (flag, file, why) => `${flag} „${file}“ lässt sich nicht lesen: ${why}.`,
  noCertificate: (file) => `--tls-cert „${file}“ ist kein Zertifikat in PEM-Form.`,
  noKey: (file) => `--tls-key „${file}“ ist kein privater Schlüssel in PEM-Form.`,
  database: {
    foreign: (file) =>
      `„${file}“ ist die Datenbank eines anderen Programms und bleibt unberührt; wähl mit --db eine andere Datei.`,
    newer: (file, has, knows) =>
      `„${file}“ hat ein neueres Daywright geschrieben (ihr Schema ist Nummer ${has}, dieses kennt ${knows}); aktualisiere Daywright, oder wähl mit --db eine andere Datei.`,
    isNone: (file) => `„${file}“ ist keine Datenbank; wähl mit --db eine andere Datei.`,
    isLocked: (file) => `„${file}“ ist von einem anderen Prozess gesperrt; versuch es noch einmal, wenn er fertig ist.`,
    unopened: (file, why) => `„${file}“ lässt sich nicht öffnen: ${why}.`,
  },
  backup: {
    isMissing: (file) => `Eine Datei „${file}“ zum Zurückspielen gibt es nicht.`,
    isDamaged: (file, verdict) => `Die Sicherung „${file}“ ist beschädigt: ${verdict}.`,
    isForeign: (file) => `„${file}“ ist keine Sicherung von Daywright.`,
    inUse: (file) => `„${file}“ wird gerade benutzt; beende Daywright, bevor du eine Sicherung zurückspielst.`,
  },
});
