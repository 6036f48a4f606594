/** The list of formulas on a sheet of its own, beside the numbers of a build. */

import type { FastifyInstance, FastifyRequest } from 'fastify';
import { FormulasPage, FormulasSheet } from '../../../views/formulas/formulas.tsx';
import { formulasHref } from '../../../views/links.ts';
import { formulaList } from '../../engine/index.ts';
import { pageOf, sendSheet, type Web } from '../web.ts';

export function registerFormulas(app: FastifyInstance, web: Web): void {
  app.get(formulasHref(':id'), async (request: FastifyRequest<{ Params: { id: string } }>, reply) => {
    const props = { page: await pageOf(web, request, request.params.id), formulas: formulaList() };
    return sendSheet(
      request,
      reply,
      () => FormulasSheet(props),
      () => FormulasPage(props),
    );
  });
}
