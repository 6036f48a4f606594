/** What the server says in the terminal from which it is started: its flags, what is wrong with them, and files. */

export const servingTexts = {
  help: (
    port: number,
    host: string,
    file: string,
  ) => `Daywright plans the build of a one-off piece that must stand finished at a fixed hour.

  npm start                       serves the pages on this machine alone
  npm start -- --lan              serves them to phones on the same network too: helpers join by a code to scan

  --port PORT       port, or PORT in the environment (default ${port}; 0 takes a free one)
  --host HOST       address to listen on, or DAYWRIGHT_HOST (default ${host}: this machine only)
  --db FILE         database file, or DAYWRIGHT_DB (default ${file})
  --lan             the same as --host 0.0.0.0
  --name NAME       a further name by which browsers may call this machine; may be given several times
  --ask-key         ask for the maker's key even where only this machine can reach the pages (behind a proxy, say)
  --new-key         make a new maker's key, show it once, and end the maker's sessions
  --tls             serve over HTTPS with a certificate made at the first start
  --tls-cert FILE   serve over HTTPS with this certificate (PEM) …
  --tls-key FILE    … and its key
  --help            this page
`,
  wrongPort: (field: string, text: string) => `${field} must be a whole number from 0 to 65535; it is "${text}".`,
  needsBeside: (has: string, lacks: string) => `${has} needs ${lacks} beside it.`,
  sameTwice: '--lan and --host say the same thing twice; give one of them.',
  wrongFlags: (what: string) => `${what}. See --help for the flags there are.`,
  seeded: (names: string) => `An empty database: the demo "${names}" was put into it.`,
  at: (addresses: string) => `Daywright is at ${addresses} (Ctrl-C stops it)`,
  portInUse: (port: number) => `Port ${port} is in use; stop what runs there or choose another with --port.`,
  portForbidden: (port: number) => `Port ${port} may not be used; choose one above 1023.`,
  cannotListen: (host: string, port: number, why: string) => `It cannot listen on ${host}, port ${port}: ${why}.`,
  fileUnread: (flag: string, file: string, why: string) => `${flag} "${file}" cannot be read: ${why}.`,
  noCertificate: (file: string) => `--tls-cert "${file}" is not a certificate in PEM form.`,
  noKey: (file: string) => `--tls-key "${file}" is not a private key in PEM form.`,
  database: {
    foreign: (file: string) =>
      `"${file}" is a database of another program and is left alone; choose another file with --db.`,
    newer: (file: string, has: number, knows: number) =>
      `"${file}" was written by a newer Daywright (its schema is number ${has}, this one knows ${knows}); update Daywright, or choose another file with --db.`,
    isNone: (file: string) => `"${file}" is not a database; choose another file with --db.`,
    isLocked: (file: string) => `"${file}" is locked by another process; try again when it has finished.`,
    unopened: (file: string, why: string) => `"${file}" cannot be opened: ${why}.`,
  },
  backup: {
    isMissing: (file: string) => `There is no file "${file}" to restore.`,
    isDamaged: (file: string, verdict: string) => `The backup "${file}" is damaged: ${verdict}.`,
    isForeign: (file: string) => `"${file}" is not a backup of Daywright.`,
    inUse: (file: string) => `"${file}" is in use; stop Daywright before restoring a backup.`,
  },
} as const;
