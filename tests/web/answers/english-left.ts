/** Finds words of ours that are left in English in what should be German. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { problemWords } from '../../../server/model/index.ts';
import { inLanguage } from '../../../server/web/language.ts';

const TEXTS = join(import.meta.dirname, '../../../views/texts');

/** The pieces of all tables of texts that are English, and which of them are in an answer. */
export interface EnglishLeft {
  readonly pieces: number;
  readonly in: (answer: string) => string[];
}

export async function englishLeft(): Promise<EnglishLeft> {
  const files = readdirSync(TEXTS, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));
  const tables: object[] = await Promise.all(files.map((file) => import(join(TEXTS, file)) as Promise<object>));
  const said = (language: 'en' | 'de') =>
    inLanguage(language, () => new Set([...tables, problemWords].flatMap(wordsIn)));
  const german = [...said('de')].join('\n');
  const english = [...said('en')].filter((words) => !german.includes(words));
  const byStart = new Map<string, string[]>();
  for (const words of english) {
    const start = words.slice(0, SHORTEST);
    byStart.set(start, [...(byStart.get(start) ?? []), words]);
  }
  return {
    pieces: english.length,
    in: (answer) => {
      const plain = readable(answer);
      const left = new Set<string>();
      for (let at = 0; at <= plain.length - SHORTEST; at++) {
        for (const words of byStart.get(plain.slice(at, at + SHORTEST)) ?? []) {
          if (plain.startsWith(words, at)) left.add(words);
        }
      }
      return [...left];
    },
  };
}

function readable(answer: string): string {
  return answer.replaceAll('&quot;', '"').replaceAll('&#39;', "'").replaceAll('\\"', '"').replaceAll('&amp;', '&');
}

/** Shorter pieces, such as `of the`, are found in names that people gave. */
const SHORTEST = 10;

/** Two words at least of each text, and of each function what stands between the values that it puts in. */
function wordsIn(texts: unknown): string[] {
  if (typeof texts === 'string') return enough([texts]);
  if (typeof texts === 'function') return enough(piecesOf(String(texts)));
  if (typeof texts !== 'object' || texts === null) return [];
  return Object.values(texts).flatMap(wordsIn);
}

/** What a function says outright: its texts in quotes, and its templates between their values. */
function piecesOf(source: string): string[] {
  const quoted = [...source.matchAll(/'([^'\n]*)'|"([^"\n]*)"/g)].map(([, one, other]) => one ?? other ?? '');
  const templates = [...source.matchAll(/[`}]([^`${}]+)(?=\$\{|`)/g)].map(([, piece]) => piece!);
  return [...quoted, ...templates];
}

function enough(texts: readonly string[]): string[] {
  return texts
    .map((text) => text.trim())
    .filter((text) => text.length >= SHORTEST && /\p{L}{2,}[ \u00a0,]+\p{L}{2,}/u.test(text));
}
