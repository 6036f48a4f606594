/** The description of the JSON API, for programs and those who write them. */
import type { FastifyInstance } from 'fastify';
import { type Language, language } from '../../model/texts/language.ts';
import { OPENAPI_PATH, openApi } from '../api/openapi.ts';
import { ownVersion } from '../api/own-version.ts';

export function registerApi(app: FastifyInstance): void {
  const version = ownVersion();
  const descriptions = new Map<Language, object>();
  app.get(OPENAPI_PATH, { config: { access: 'open' } }, () => {
    const known = descriptions.get(language()) ?? openApi(version);
    descriptions.set(language(), known);
    return known;
  });
}
