/**
 * The language of who reads an answer: picked on a sheet, else the one that the browser asks for. It is kept for the
 * whole of a request, over all waits, because refusals are worded where something is found wrong and not where the
 * answer is drawn.
 */
import { AsyncLocalStorage } from 'node:async_hooks';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { askLanguage, LANGUAGES, type Language } from '../model/texts/language.ts';
import '../../views/german/index.ts';

export const LANGUAGE_COOKIE = 'language';

/** What an answer in words depends on, beside its address. */
export const VARY = 'cookie, accept-language';

const spoken = new AsyncLocalStorage<Language>();
askLanguage(() => spoken.getStore() ?? 'en');

/** Does something with all texts in a language. */
export function inLanguage<T>(language: Language, act: () => T): T {
  return spoken.run(language, act);
}

/** A word in each language, for what was written in one and may be read back in another. */
export function inEveryLanguage(word: () => string): string[] {
  return LANGUAGES.map((one) => inLanguage(one, word));
}

/** Lets every route speak the language of who asks; the reading of a body forgets it, so it is said again after. */
export function registerLanguage(app: FastifyInstance): void {
  app.addHook('onRequest', (request, _reply, done) => inLanguage(languageOf(request), done));
  app.addHook('onSend', (request, reply, payload, done) => {
    sayLanguage(request, reply);
    done(null, payload);
  });
  app.addHook('preValidation', (request, _reply, done) => inLanguage(languageOf(request), done));
}

/** Says in which language an answer in words is, and what that depends on. */
function sayLanguage(request: FastifyRequest, reply: FastifyReply): void {
  const type = String(reply.getHeader('content-type') ?? '');
  const isFile = reply.hasHeader('content-disposition');
  if (isFile || !/^text\/html|json/.test(type) || reply.hasHeader('content-language')) return;
  reply.header('content-language', languageOf(request));
  if (!reply.hasHeader('vary')) reply.header('vary', VARY);
}

/** The language for a request: of its cookie, else of what its browser accepts, else English. */
export function languageOf({ cookies, headers }: FastifyRequest): Language {
  const picked = LANGUAGES.find((one) => one === cookies?.[LANGUAGE_COOKIE]);
  return picked ?? acceptedLanguage(headers['accept-language'] ?? '');
}

/**
 * The first of our languages that a browser would have, by RFC 9110, 12.5.4: the highest quality, of equal ones the
 * first named; `de-AT` is German, and `*` is English. English where it would have neither.
 *
 *     acceptedLanguage('fr, de-AT;q=0.8, en;q=0.7') // 'de'
 */
export function acceptedLanguage(header: string): Language {
  const ranges = header.split(',').map(rangeOf);
  const refused = ranges.filter(({ quality }) => quality === 0).map(({ tag }) => tag);
  const wanted = ranges.filter(({ quality }) => quality > 0).sort((a, b) => b.quality - a.quality);
  const found = wanted.flatMap(({ tag }) => LANGUAGES.filter((one) => tag === '*' || tag.split('-')[0] === one));
  return found.find((one) => !refused.includes(one)) ?? 'en';
}

/**
 * The language of a terminal, by its environment: the first that is set of `LC_ALL`, `LC_MESSAGES` and `LANG` (POSIX.1,
 * Environment Variables, 8.2); English where it is none of ours.
 *
 *     terminalLanguage({ LANG: 'de_AT.UTF-8' }) // 'de'
 *     terminalLanguage({ LC_ALL: 'C', LANG: 'de_DE.UTF-8' }) // 'en'
 */
export function terminalLanguage(env: Readonly<Record<string, string | undefined>>): Language {
  const locale = [env.LC_ALL, env.LC_MESSAGES, env.LANG].find((one) => one !== undefined && one !== '');
  return LANGUAGES.find((one) => one === locale?.toLowerCase().split(/[_.@-]/)[0]) ?? 'en';
}

/** `de-AT;q=0.8` as `de-at` and 0.8; what is no quality counts as none. */
function rangeOf(range: string): { readonly tag: string; readonly quality: number } {
  const [, tag = '', q = '1'] = /^\s*([a-z][\w-]*|\*)\s*(?:;\s*q=([\d.]+)\s*)?$/i.exec(range) ?? [];
  const quality = Number(q);
  return { tag: tag.toLowerCase(), quality: quality >= 0 && quality <= 1 ? quality : 0 };
}
