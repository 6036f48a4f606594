/** Keys for programs that may only count: the one just made, those there are, and a worked example. */
import type { Build } from '../../server/model/index.ts';
import { BookHead, Document } from '../frame/layout.tsx';
import { helpersHref } from '../links.ts';
import type { Html } from '../render.ts';
import { keyTexts as say } from '../texts/programs/keys.ts';
import type { Light } from '../types.ts';

/** A key just made: it is shown this once. */
export interface NewKey {
  readonly name: string;
  readonly token: string;
}

interface KeyLine {
  readonly number: number;
  readonly name: string;
  readonly since: string;
  /** Null: never yet. */
  readonly used: string | null;
}

interface KeysProps {
  build: Build;
  light: Light | null;
  made: NewKey | null;
  typed: string;
  problem: string | null;
  /** Why no key is made, where the build is closed. */
  closed: string | null;
  /** Whether any other machine can reach this server. */
  isReachable: boolean;
  /** Where programs find it: `http://192.0.2.7:4380`. */
  origin: string;
  /** The present instant, as an entry says it. */
  at: string;
  keys: readonly KeyLine[];
}

/**
 *     keysHref('slow-ceiling') // '/b/slow-ceiling/keys'
 */
export function keysHref(build: string): string {
  return `/b/${build}/keys`;
}

export function KeysPage(props: KeysProps): Html {
  const { build, light, made, typed, problem, closed, isReachable, origin, at, keys } = props;
  return (
    <Document title={`${say.heading} · ${build.name}`} light={light} bare styles={['join.css']}>
      <BookHead build={build.id} name={build.name} screen="contents" light={light} />
      <main id="sheet" tabindex={-1}>
        <div class="body">
          <h1>{say.heading}</h1>
          <p>{say.intro}</p>
          {isReachable ? null : <p class="threat">{say.notReachable}</p>}
          {made === null ? null : <Made made={made} />}
          {problem === null ? null : (
            <p class="threat" role="alert">
              {problem}
            </p>
          )}
          {closed === null ? (
            <form method="post" action={keysHref(build.id)} class="letting-in">
              <label for="key-name">{say.name}</label>
              <input id="key-name" name="name" value={typed} autocomplete="off" maxlength={40} required />
              <button type="submit">{say.make}</button>
            </form>
          ) : (
            <p class="threat">{closed}</p>
          )}
          <h2>{say.keys}</h2>
          {keys.length === 0 ? <p>{say.none}</p> : null}
          <ul class="helpers">
            {keys.map((key) => (
              <KeyItem key={key.number} build={build.id} shown={key} />
            ))}
          </ul>
          <Guide build={build} origin={origin} at={at} />
          <p>
            <a href={helpersHref(build.id)}>{say.toPeople}</a>
          </p>
        </div>
      </main>
    </Document>
  );
}

function Made({ made }: { made: NewKey }): Html {
  return (
    <section class="made" aria-labelledby="made-title">
      <p id="made-title">{say.made(made.name)}</p>
      <p class="secret">{made.token}</p>
    </section>
  );
}

function KeyItem({ build, shown }: { build: string; shown: KeyLine }): Html {
  return (
    <li>
      <span>
        <b>{shown.name}</b>{' '}
        <span class="quiet">
          {say.since(shown.since)}, {shown.used === null ? say.neverUsed : say.used(shown.used)}
        </span>
      </span>
      <form method="post" action={keysHref(build)}>
        <button type="submit" name="end" value={shown.number} aria-label={say.end(shown.name)}>
          {say.endWord}
        </button>
      </form>
    </li>
  );
}

/** One count from beginning to end, on the build that this sheet is of. */
function Guide({ build, origin, at }: Pick<KeysProps, 'build' | 'origin' | 'at'>): Html {
  const step = build.steps[0]?.id ?? 'sand-ribs';
  const own = `${origin}/b/${build.id}`;
  const { guide } = say;
  return (
    <section class="guide" aria-labelledby="guide-title">
      <h2 id="guide-title">{guide.heading}</h2>
      <p>{guide.read}</p>
      <pre>{`curl ${own}/steps.json -H 'Authorization: Bearer KEY'`}</pre>
      <p>{guide.post}</p>
      <pre>{postExample(own, step, at)}</pre>
      <p>{guide.answered}</p>
      <pre>{RECEIPT_EXAMPLE}</pre>
      <p>{guide.again}</p>
      <p>{guide.keep}</p>
      <p>
        {guide.described} <a href="/openapi.json">/openapi.json</a>
      </p>
    </section>
  );
}

function postExample(own: string, step: string, at: string): string {
  return [
    `curl ${own}/entries \\`,
    `  -H 'Authorization: Bearer KEY' \\`,
    `  -H 'Content-Type: application/json' \\`,
    `  -d '{"entries": [{"id": "scale-0001", "kind": "done", "step": "${step}", "n": 3, "at": "${at}"}]}'`,
  ].join('\n');
}

const RECEIPT_EXAMPLE =
  '{"receipts": [{"id": "scale-0001", "state": "stored", "seq": 1, "problems": [], "questions": []}], …}';
