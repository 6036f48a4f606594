/** A large object as JSON, in parts that take some milliseconds each. */

/** Items of a list in one part. */
const AT_ONCE = 20;

/**
 * The text that `JSON.stringify` gives of a plain object, in parts: its long lists some items at a time.
 *
 *     [...jsonParts({ a: 1, b: [2, 3] })].join('') // '{"a":1,"b":[2,3]}'
 */
export function* jsonParts(value: object): Generator<string> {
  let before = '{';
  for (const [name, field] of Object.entries(value)) {
    if (field === undefined) continue;
    yield `${before}${JSON.stringify(name)}:`;
    before = ',';
    if (Array.isArray(field)) yield* listParts(field);
    else yield JSON.stringify(field);
  }
  yield before === '{' ? '{}' : '}';
}

function* listParts(list: readonly unknown[]): Generator<string> {
  yield '[';
  for (let first = 0; first < list.length; first += AT_ONCE) {
    const some = JSON.stringify(list.slice(first, first + AT_ONCE)).slice(1, -1);
    yield first === 0 ? some : `,${some}`;
  }
  yield ']';
}
