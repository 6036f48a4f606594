/** A file that a form sends: read whole, or refused in a sentence. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { texts } from '../../views/texts/index.ts';
import { FILE_LIMIT_BYTES, Refusal } from './errors.ts';

interface Upload {
  readonly name: string;
  /** Empty where no file was chosen. */
  readonly bytes: Uint8Array;
}

/** What a route that takes a file may be sent: the file, and what a form puts around it. */
export const UPLOAD_LIMIT_BYTES = FILE_LIMIT_BYTES + 16 * 1024;

/** A form with a file has two parts; each begins with a few lines of its own. */
const MOST_PARTS = 12;
const LONGEST_HEAD = 4096;

/**
 * Takes multipart bodies whole, and leaves it to `readUpload` to take them apart. A reader that parses them as they
 * come waits for ever for somebody to read a part that has no name.
 */
export function registerUploads(scope: FastifyInstance): void {
  scope.addContentTypeParser('multipart/form-data', { parseAs: 'buffer' }, (_request, body, done) => done(null, body));
}

/**
 * The file of a multipart form (RFC 7578) whose field is called `file`; empty where there is none. A body that ends
 * early, or that has parts without a name, too many parts or endless heads, is refused with 400. What a large part
 * holds is not read here: the standard reader would hold up everybody else for as long as it copies it.
 */
export async function readUpload(request: FastifyRequest): Promise<Upload> {
  const { body } = request;
  if (!Buffer.isBuffer(body)) return NOTHING;
  const type = request.headers['content-type'] ?? '';
  const boundary = boundaryOf(type);
  if (!isOfOrdinaryMake(body, boundary)) throw new Refusal(400, texts.errors.cutShort);
  const { skeleton, contents } = withoutContents(body, boundary);
  const file = (await formOf(skeleton, type)).get('file');
  if (!(file instanceof File)) return NOTHING;
  const bytes = new Uint8Array(await file.arrayBuffer());
  return { name: file.name, bytes: contents.get(Buffer.from(bytes).toString()) ?? bytes };
}

const NOTHING: Upload = { name: '', bytes: new Uint8Array() };

async function formOf(body: Buffer, type: string): Promise<FormData> {
  try {
    return await new Response(new Uint8Array(body), { headers: { 'content-type': type } }).formData();
  } catch {
    throw new Refusal(400, texts.errors.cutShort);
  }
}

function boundaryOf(type: string): string {
  const match = /boundary=(?:"([^"]+)"|([^;\s]+))/i.exec(type);
  return match?.[1] ?? match?.[2] ?? '';
}

/** Few parts with short heads; the standard reader takes seconds for a hundred thousand of either. */
function isOfOrdinaryMake(body: Buffer, boundary: string): boolean {
  if (boundary === '') return false;
  const mark = `--${boundary}`;
  let parts = 0;
  for (let at = body.indexOf(mark); at >= 0; at = body.indexOf(mark, at + mark.length)) {
    const isEnd = body.toString('latin1', at + mark.length, at + mark.length + 2) === '--';
    const head = body.subarray(at, at + LONGEST_HEAD + 4).indexOf(HEAD_END);
    if (++parts > MOST_PARTS || (head < 0 && !isEnd)) return false;
  }
  return true;
}

const HEAD_END = '\r\n\r\n';
/** Bytes of a part's content up to which it stays in its place. */
const SMALL_CONTENT = 16 * 1024;

interface Taken {
  /** The body, with a name in the place of each large content. */
  readonly skeleton: Buffer;
  readonly contents: ReadonlyMap<string, Uint8Array>;
}

function withoutContents(body: Buffer, boundary: string): Taken {
  const mark = `\r\n--${boundary}`;
  const contents = new Map<string, Uint8Array>();
  const kept: Uint8Array[] = [];
  let from = 0;
  for (let end = body.indexOf(mark, from); end >= 0; end = body.indexOf(mark, end + mark.length)) {
    const content = body.indexOf(HEAD_END, from) + HEAD_END.length;
    if (content > HEAD_END.length && end - content > SMALL_CONTENT) {
      const name = `content ${contents.size} of ${body.length} bytes`;
      contents.set(name, body.subarray(content, end));
      kept.push(body.subarray(from, content), Buffer.from(name));
    } else kept.push(body.subarray(from, end));
    from = end;
  }
  return { skeleton: Buffer.concat([...kept, body.subarray(from)]), contents };
}
