/** Answers to what reaches no route: an address that cannot be read, and bytes that are no request. */
import type { Socket } from 'node:net';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { renderPage } from '../../views/render.ts';
import { ErrorPage } from '../../views/sheets/builds.tsx';
import { texts } from '../../views/texts/index.ts';
import { bareHeaders } from './headers.ts';
import { inLanguage, languageOf } from './language.ts';

/** The longest part of an address; longer ones are answered with 414. */
export const LONGEST_PART = 200;

interface FrameworkError extends Error {
  readonly code: string;
  readonly statusCode?: number;
}

/** For Fastify's `frameworkErrors`: no hook and no plugin has seen such a request, so the headers are put on here. */
export function answerStray(secure: boolean) {
  return (error: FrameworkError, request: FastifyRequest, reply: FastifyReply): void => {
    const asked = request.headers.accept ?? '';
    inLanguage(languageOf(request), () => {
      const { status, sentence } = strayWords(error);
      reply.code(status).headers({ ...bareHeaders(secure), 'cache-control': 'no-store' });
      if (asked.includes('html')) {
        reply.type('text/html; charset=utf-8').send(renderPage(ErrorPage({ sentence, light: null })));
      } else {
        reply.type('application/json; charset=utf-8').send(JSON.stringify({ problem: sentence }));
      }
    });
  };
}

function strayWords({ code, statusCode }: FrameworkError): { status: number; sentence: string } {
  if (code === 'FST_ERR_MAX_PARAM_LENGTH') return { status: 414, sentence: texts.errors.longPath(LONGEST_PART) };
  return { status: statusCode ?? 400, sentence: texts.errors.badPath };
}

const REASONS: Readonly<Record<string, string>> = {
  HPE_HEADER_OVERFLOW: '431 Request Header Fields Too Large',
  ERR_HTTP_REQUEST_TIMEOUT: '408 Request Timeout',
};

/**
 * For Fastify's `clientErrorHandler`: what Node could not parse has no request; the answer is written to the socket.
 */
export function answerUnparsed(secure: boolean) {
  return (error: NodeJS.ErrnoException, socket: Socket): void => {
    if (error.code === 'ECONNRESET' || socket.destroyed) return;
    if (socket.writable) socket.write(unparsedAnswer(error.code ?? '', secure));
    socket.destroy(error);
  };
}

function unparsedAnswer(code: string, secure: boolean): string {
  const body = JSON.stringify({ problem: texts.errors.noRequest });
  const headers = {
    ...bareHeaders(secure),
    'cache-control': 'no-store',
    'content-type': 'application/json; charset=utf-8',
    'content-length': String(Buffer.byteLength(body)),
    connection: 'close',
  };
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`);
  return `HTTP/1.1 ${REASONS[code] ?? '400 Bad Request'}\r\n${lines.join('')}\r\n${body}`;
}
