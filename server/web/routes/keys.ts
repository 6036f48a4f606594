/** Keys for programs that may only count: the sheet on which the maker makes, sees and ends them. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { KeysPage, keysHref, type NewKey } from '../../../views/sheets/keys.tsx';
import { texts } from '../../../views/texts/index.ts';
import { keyTexts as say } from '../../../views/texts/programs/keys.ts';
import { whenText } from '../../../views/words/wording.ts';
import { MAKER } from '../../planner/index.ts';
import type { KeyStore } from '../../store/index.ts';
import { Refusal } from '../errors.ts';
import { hashOf, newToken } from '../secrets.ts';
import { wallClock } from '../wall-clock.ts';
import { closedText, foundIn, lightOf, numberSent, refuseClosed, sendPage, type Web } from '../web.ts';

interface KeyParts {
  readonly keys: KeyStore;
  /** Milliseconds since the epoch. */
  readonly nowMs: () => number;
  /** Addresses under which other machines reach this server, the best one first. */
  readonly addresses: () => readonly string[];
}

const LONGEST_NAME = 40;
const MINUTE_MS = 60_000;

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerKeys(app: FastifyInstance, web: Web, parts: KeyParts): void {
  const { keys, nowMs } = parts;
  const path = keysHref(':id');
  app.get(path, (request: BuildRequest, reply) => show(web, parts, request, reply, {}));
  app.post(path, (request: BuildRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    const { name: typed, end } = (request.body ?? {}) as Readonly<Record<string, unknown>>;
    if (end !== undefined) {
      if (!keys.end(id, numberSent(end), nowMs())) throw new Refusal(404, say.noKey);
      return reply.redirect(keysHref(id), 303);
    }
    refuseClosed(web, id);
    const name = typeof typed === 'string' ? typed.replace(/\s+/g, ' ').trim() : '';
    const refuse = (problem: string): Promise<string> => {
      reply.code(422);
      return show(web, parts, request, reply, { typed: name, problem });
    };
    if (name === '' || name.length > LONGEST_NAME) return refuse(say.problems.name);
    if (name.toLowerCase() === MAKER) return refuse(say.problems.nameMaker);
    const token = newToken();
    const added = keys.add(id, { name, tokenHash: hashOf(token), createdAt: nowMs() });
    if (added === 'name-taken') return refuse(say.problems.nameTaken(name));
    if (added === 'no-build') throw new Refusal(404, texts.errors.noBuild(id));
    return show(web, parts, request, reply, { made: { name, token } });
  });
}

interface Shown {
  readonly made?: NewKey;
  readonly typed?: string;
  readonly problem?: string;
}

function show(web: Web, { keys, addresses }: KeyParts, request: BuildRequest, reply: FastifyReply, shown: Shown) {
  const { build } = foundIn(web, request.params.id);
  const clock = wallClock(build.zone);
  const when = (ms: number): string => whenText(clock, Math.floor(ms / MINUTE_MS), web.now());
  const [address] = addresses();
  return sendPage(
    reply,
    KeysPage({
      build,
      light: lightOf(request),
      made: shown.made ?? null,
      typed: shown.typed ?? '',
      problem: shown.problem ?? null,
      closed: closedText(web, build.id),
      isReachable: address !== undefined,
      at: `${new Date(web.now() * MINUTE_MS).toISOString().slice(0, 19)}Z`,
      origin: address ?? `${request.protocol}://${request.host}`,
      keys: keys.of(build.id).map(({ number, name, createdAt, usedAt }) => ({
        number,
        name,
        since: when(createdAt),
        used: usedAt === null ? null : when(usedAt),
      })),
    }),
  );
}
