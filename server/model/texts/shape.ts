/** What is wrong with the form of something that came from outside: see `check.ts`. */
export const shapeTexts = {
  notAFile: (found: string) => `A build file is an object with "format", "version" and "build"; this is ${found}.`,
  format: (wanted: string, found: string) => `"format" must be "${wanted}"; it is ${found}.`,
  version: (known: number, found: string) =>
    `This Daywright reads version ${known} of the build file; this one says ${found}.`,
  missing: (field: string, wanted: string | null) =>
    `"${field}" is missing${wanted === null ? '' : `; it must be ${wanted}`}.`,
  /** The subject of the sentences below: a field, or '' for the whole. */
  subject: (field: string) => (field === '' ? 'The build' : `"${field}"`),
  whole: (subject: string, says: string) => `${subject} ${says}`,
  unknownKeys: (names: readonly string[], more: number) =>
    `has ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}, which is not a name used there.`,
  kind: (kinds: readonly string[], found: string) => `must be one of ${kinds.join(', ')}; it is ${found}.`,
  atLeast: (limit: unknown, found: string) => `must be at least ${limit}; it is ${found}.`,
  moreThan: (limit: unknown, found: string) => `must be more than ${limit}; it is ${found}.`,
  atMost: (limit: unknown, found: string) => `must be at most ${limit}; it is ${found}.`,
  tooManyItems: (limit: unknown, found: number) => `must have at most ${limit} items; it has ${found}.`,
  tooLong: (limit: unknown, found: number) => `must have at most ${limit} characters; it has ${found}.`,
  mustBe: (wanted: string, found: string) => `must be ${wanted}; it is ${found}.`,
  empty: 'must be filled in; it is empty.',
  /** In place of a value that cannot be shown. */
  tooDeep: 'something nested too deeply',
  other: (said: string, found: string) => `${said}; it is ${found}.`,
  anyForm: 'of a form that "daywright schema" prints',
  oneOf: (values: readonly unknown[]) => `one of ${values.join(', ')}`,
  forms: {
    id: 'a short name of small letters, digits and hyphens',
    parameter: 'a letter followed by letters, digits and _',
    date: 'a date as YYYY-MM-DD',
    moment: 'a date and time such as 2026-12-05T19:00',
    time: 'a time of day as HH:MM',
    entry: 'an id of 8 to 64 letters, digits, _ and -',
    pattern: (pattern: string) => `of the form ${pattern}`,
  },
  type: (type: string) => (type === 'integer' ? 'a whole number' : `${/^[aeio]/.test(type) ? 'an' : 'a'} ${type}`),
  nothing: 'nothing',
  list: 'a list',
  noValue: 'missing',
  emptyValue: 'empty',
} as const;
