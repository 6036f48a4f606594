/** Blocks of lines as the text of a terminal. */

/**
 * The blocks one under the other with a blank line between, a line's end behind the last; empty blocks are left out.
 * The spaces that keep a number with its unit on a page are plain ones here, so that the text can be searched.
 *
 *     terminalText([['Arch', '2 h'], [], ['ready']]) // 'Arch\n2 h\n\nready\n'
 */
export function terminalText(blocks: readonly (readonly string[])[]): string {
  const text = blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.map(oneLine).join('\n'))
    .join('\n\n');
  return `${text.replace(/[\u00a0\u202f]/g, ' ')}\n`;
}

/**
 * A line of the terminal: what people named may hold line breaks and what would steer a terminal.
 *
 *     oneLine('a\nb') // 'a b'
 */
export function oneLine(text: string): string {
  return text.replace(/\p{Cc}+/gu, ' ');
}

/** A title with lines indented below it; nothing where there are none. */
export function section(title: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : [title, ...lines.map((line) => `  ${line}`)];
}
