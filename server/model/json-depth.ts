/** How deep values lie in each other, in JSON that is not read yet. */
const [QUOTE, BACKSLASH, OPEN_SQUARE, CLOSE_SQUARE, OPEN_CURLY, CLOSE_CURLY] = [0x22, 0x5c, 0x5b, 0x5d, 0x7b, 0x7d];

/**
 * How deep lists and objects are nested in a JSON text, without reading it: brackets open at once, those in strings
 * left out. Takes one pass, and no stack, so it may be asked of any text.
 *
 * @example jsonDepth('{"a": [1, "]"]}') is 2
 */
export function jsonDepth(text: string): number {
  let [open, deepest] = [0, 0];
  for (let i = 0; i < text.length; i++) {
    const one = text.charCodeAt(i);
    if (one === QUOTE) i = endOfString(text, i);
    else if (one === OPEN_SQUARE || one === OPEN_CURLY) deepest = Math.max(deepest, ++open);
    else if (one === CLOSE_SQUARE || one === CLOSE_CURLY) open = Math.max(0, open - 1);
  }
  return deepest;
}

function endOfString(text: string, start: number): number {
  let i = start + 1;
  while (i < text.length && text.charCodeAt(i) !== QUOTE) i += text.charCodeAt(i) === BACKSLASH ? 2 : 1;
  return i;
}
