/** Reading of JSON bodies: bounded in depth before anything else looks at them. */
import type { FastifyInstance } from 'fastify';
import { texts } from '../../views/texts/index.ts';
import { jsonDepth } from '../model/index.ts';
import { Refusal } from './errors.ts';

/** What a phone sends is four deep. Whatever walks or words a value calls itself once a level. */
const DEEPEST = 32;

/** Replaces the framework's own reader of JSON by one that refuses what is nested beyond use. */
export function registerBodies(app: FastifyInstance): void {
  const parse = app.getDefaultJsonParser('error', 'error');
  app.removeContentTypeParser('application/json');
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (request, body, done) => {
    const text = String(body);
    if (jsonDepth(text) > DEEPEST) return done(new Refusal(400, texts.errors.tooDeep(DEEPEST)));
    return parse(request, text, done);
  });
}
