/** One table: what went wrong, the status it is answered with, and the sentence a person reads. */
import type { FastifyError } from 'fastify';
import { texts } from '../../views/texts/index.ts';
import type { Problem, ProblemCode } from '../model/index.ts';
import { MOST_FILE_MEGABYTES } from '../planner/index.ts';

const say = texts.errors;

export const FORM_LIMIT_BYTES = 512 * 1024;
export const FILE_LIMIT_BYTES = MOST_FILE_MEGABYTES * 1024 * 1024;

/** Bytes as a person says them: `512 kB`, `8 MB`. */
export function sizeText(bytes: number): string {
  const kilobytes = Math.round(bytes / 1024);
  return kilobytes < 1024 ? `${kilobytes} kB` : `${Math.round(kilobytes / 1024)} MB`;
}

/** A refusal that has a page of its own: thrown by a route, answered by the error handler. */
export class Refusal extends Error {
  readonly status: number;
  constructor(status: number, sentence: string) {
    super(sentence);
    this.status = status;
  }
}

/** There is nothing to show yet: a page that says so and fetches itself again. */
export class UnderWay extends Refusal {
  constructor(sentence: string) {
    super(503, sentence);
  }
}

/**
 * Status of an answer that is a list of problems: 409 for a conflict, 413 for a size, 423 for a closed build, otherwise
 * 422.
 *
 *     statusOf([{ code: 'conflict' }]) // 409
 */
export function statusOf(problems: readonly Problem[]): number {
  const [first] = problems;
  return (first === undefined ? undefined : STATUS_BY_CODE[first.code]) ?? 422;
}

const STATUS_BY_CODE: Partial<Record<ProblemCode, number>> = { conflict: 409, 'too-large': 413, closed: 423 };

/**
 * Status and sentence for anything thrown while a request was answered; null where it is a bug of ours. `bodyLimit`:
 * bytes that the route takes.
 */
export function refusalOf(
  error: FastifyError | Refusal | Error,
  bodyLimit: number,
): { status: number; sentence: string } | null {
  if (error instanceof Refusal) return { status: error.status, sentence: error.message };
  const { code, statusCode } = error as Partial<FastifyError>;
  if (code === 'FST_ERR_CTP_BODY_TOO_LARGE') return { status: 413, sentence: say.tooLarge(sizeText(bodyLimit)) };
  if (/^SQLITE_(FULL|BUSY|IOERR|READONLY|CANTOPEN)/.test(code ?? '')) return { status: 503, sentence: say.disk };
  if (code === 'DISK_LOST') return { status: 503, sentence: say.diskLost };
  if (statusCode === 429) return { status: 429, sentence: say.tooOften };
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500) {
    return { status: statusCode, sentence: say.badForm };
  }
  return null;
}
