/** The one style sheet that all pages of a kind link, and what it is made of: a phone asks once for each file. */

const FRAME = ['tokens.css', 'base.css', 'frame.css', 'rule.css'];
const SHEETS = [
  'sheets.css',
  'countdown.css',
  'steps.css',
  'dates.css',
  'day.css',
  'design.css',
  'contents.css',
  'narrow.css',
  'pictures.css',
  'ledger.css',
  'options.css',
  'lines.css',
  'troubles.css',
  'levers.css',
  'now.css',
  'ways.css',
  'orders.css',
  'show.css',
  'waits.css',
];

/** By the name under /assets, the style sheets that it is made of, in the order in which the later one wins. */
export const STYLES = {
  /** Pages that bring their own, and weigh little. */
  'bare.css': [...FRAME, 'forms.css'],
  'sheet.css': [...FRAME, ...SHEETS, 'forms.css'],
} as const;

/** The one that a page links first, `bare` or with the styles of the sheets. */
export function styleFor(bare: boolean): keyof typeof STYLES {
  return bare ? 'bare.css' : 'sheet.css';
}
