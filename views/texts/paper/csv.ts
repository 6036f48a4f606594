/** The words of tables that go out to a spreadsheet and come back. */
import { worded } from '../../../server/model/texts/language.ts';
import { some } from '../grammar.ts';

export const csvTexts = worded({
  heading: 'Tables',
  intro:
    'Parts, steps and the log as tables for a spreadsheet, and back. Columns are found by their headings, in any order; a column that is left out changes nothing, an empty cell empties its field, and what is not in the table stays as it is.',
  out: 'Save as a table',
  lists: { parts: 'Parts', steps: 'Steps', log: 'The log', orders: 'Orders' },
  comma: 'comma',
  semicolon: 'semicolon',
  saved: (list: string, separator: string) => `${list}, parted by ${separator}`,
  back: 'Read a table',
  which: 'What the table holds',
  paste: 'Paste it here, with its headings',
  file: 'or choose a file',
  look: 'Look at it first',
  preview: 'What would change',
  save: 'Make these changes',
  saveLog: 'Add these entries',
  nothing: 'The table changes nothing: all of it is so already.',
  entries: (added: number, known: number) =>
    `${added === 1 ? '1 entry' : `${added} entries`} would be added${known === 0 ? '' : `, ${known} are in the log already`}.`,
  wrong: 'Nothing was changed. First mend this:',
  partly: (added: number) =>
    `The plan was changed meanwhile: only ${added === 1 ? '1 entry was' : `${added} entries were`} added. Look at the rest again:`,
  ignored: (headings: string) => `Columns that are not read: ${headings}.`,
  more: (n: number) => `${n} more`,
  row: (line: number, message: string) => `Line ${line}: ${message}`,
  moreRows: (n: number) => `${some(n, 'more line has', 'more lines have')} something wrong; mend these first.`,
  column: (field: string, sub: string, n: number) => `${field} ${n}: ${sub}`,
  kind: 'kind',
  problems: {
    empty: 'The table is empty. Paste it with its headings in the first line.',
    noHeading:
      'No heading of the first line is known. Save the table first and keep its headings; “Name” or “id” must be among them.',
    noName: 'No column says which thing a line is about. Add one with the heading “id” or “Name”.',
    tooMany: (most: number) =>
      `The table has more than ${most} lines, the most that can be read at once; part it into several.`,
    unreadable: (line: number) => `Line ${line} cannot be read: a quote that opens is never closed.`,
    twiceHeading: (heading: string) => `“${heading}” is the heading of two columns; leave one.`,
    nameless: 'The line names nothing: fill in “Name” or “id”.',
    twice: (name: string, line: number) =>
      `“${name}” is on line ${line} too; keep one of them, or give each its own id.`,
    otherwise: (id: string) =>
      `The entry “${id}” is in the log and says something else; entries never change. Keep the line as it was saved, or undo the entry on Count and add a line without an id.`,
    twins: (name: string, ids: string) =>
      `“${name}” is the name of several things here (${ids}); say by “id” which is meant.`,
    ambiguous: (label: string, value: string) =>
      `“${label}” is “${value}”, which may be a whole number or a fraction; write ${value.replace(',', '')} or ${value.replace(',', '.')}.`,
    yes: (label: string, value: string) => `“${label}” is “${value}”; write yes, or leave it empty.`,
    unknown: (label: string, value: string) =>
      `“${label}” names “${value}”, which is not there; write an id or a name of this build.`,
    conflict: 'The plan has changed since the table was looked at. Look at it again.',
  },
});
