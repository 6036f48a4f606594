/** The description of the JSON API, for programs and those who write them. */
import type { FastifyInstance } from 'fastify';
import { OPENAPI_PATH, openApi } from '../api/openapi.ts';
import { ownVersion } from '../api/own-version.ts';

export function registerApi(app: FastifyInstance): void {
  const description = openApi(ownVersion());
  app.get(OPENAPI_PATH, { config: { access: 'open' } }, () => description);
}
