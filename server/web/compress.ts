/**
 * What pages are made of goes over the air compressed; a workshop's network is weak and a phone's battery small. The
 * library for it gives an answer without a body (304) one.
 */

import { Readable } from 'node:stream';
import { promisify } from 'node:util';
import { constants, createGzip, gzip } from 'node:zlib';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';

/** Less than this fits into one packet anyway. */
const LEAST_BYTES = 1200;
const TEXTS = /^(text\/(html|css|javascript)|application\/(javascript|json|manifest\+json)|image\/svg\+xml)\b/;
const packed = promisify(gzip);

/**
 * Compresses answers to GET that are text, where the browser takes it; entries, files and live updates go as they are.
 */
export function registerCompression(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload) => {
    if (!isWanted(request, reply)) return payload;
    if (typeof payload === 'string' && payload.length >= LEAST_BYTES) {
      return asGzip(reply, await packed(payload, { level: constants.Z_DEFAULT_COMPRESSION }));
    }
    if (payload instanceof Readable) return asGzip(reply, payload.pipe(createGzip()));
    return payload;
  });
}

function isWanted({ method, headers }: FastifyRequest, reply: FastifyReply): boolean {
  if (method !== 'GET' || reply.statusCode !== 200 || headers.range !== undefined) return false;
  if (!TEXTS.test(String(reply.getHeader('content-type') ?? ''))) return false;
  const vary = [reply.getHeader('vary')].flat().filter((one) => one !== undefined);
  reply.header('vary', [...vary, 'accept-encoding'].join(', '));
  return /\bgzip\b(?!;\s*q=0(\.0*)?\s*(,|$))/.test(String(headers['accept-encoding'] ?? ''));
}

function asGzip<T>(reply: FastifyReply, payload: T): T {
  reply.header('content-encoding', 'gzip').removeHeader('content-length');
  return payload;
}
