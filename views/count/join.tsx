/**
 * The pages on which somebody is let in: the maker with the key, a helper with a code; and the maker's list of helpers.
 */
import { BookHead, Document } from '../frame/layout.tsx';
import type { Html } from '../render.ts';
import { keysHref } from '../sheets/keys.tsx';
import { accessTexts as say } from '../texts/access.ts';
import { frameTexts } from '../texts/frame.ts';
import { keyTexts } from '../texts/programs/keys.ts';
import type { Light } from '../types.ts';

interface EnterProps {
  /** What was wrong with the key that was given. */
  problem: string | null;
}

/** For the maker. A link with the key behind its # fills and sends the form by itself. */
export function EnterPage({ problem }: EnterProps): Html {
  return (
    <Plain title={say.enterTitle}>
      <h1>{say.enterTitle}</h1>
      <p>{say.enterMaker}</p>
      <Wrong problem={problem} />
      <form method="post" action="/enter" class="letting-in">
        <label for="key">{say.enterKey}</label>
        <input id="key" name="key" type="password" autocomplete="current-password" required data-from-link />
        <button type="submit">{say.enter}</button>
      </form>
      <p class="quiet">{say.keyWhere}</p>
      <p>
        {say.enterHelper} <a href="/join">{say.typeCode}</a>.
      </p>
    </Plain>
  );
}

interface JoinProps {
  problem: string | null;
  typed: { readonly code: string; readonly name: string };
}

/** For a helper. The code comes with the scanned link, the name is typed. */
export function JoinPage({ problem, typed }: JoinProps): Html {
  return (
    <Plain title={say.joinTitle}>
      <h1>{say.joinTitle}</h1>
      <p>{say.joinWords}</p>
      <Wrong problem={problem} />
      <form method="post" action="/join" class="letting-in">
        <label for="code">{say.code}</label>
        <input
          id="code"
          name="code"
          value={typed.code}
          autocomplete="off"
          autocapitalize="characters"
          spellcheck={false}
          maxlength={20}
          required
          data-from-link
        />
        <label for="name">{say.name}</label>
        <input id="name" name="name" value={typed.name} autocomplete="given-name" maxlength={40} required />
        <button type="submit">{say.join}</button>
      </form>
    </Plain>
  );
}

export function RefusedPage({ message, build }: { message: string; build: string | null }): Html {
  return (
    <Plain title={say.refusedTitle}>
      <h1>{say.refusedTitle}</h1>
      <p>{message}</p>
      {build === null ? null : (
        <p>
          <a href={`/b/${build}/count`}>{say.toCount}</a>
        </p>
      )}
    </Plain>
  );
}

/** A square code: `true` is dark. */
type QrMatrix = readonly (readonly boolean[])[];

export interface OpenCode {
  readonly code: string;
  /** Where to type it. */
  readonly address: string;
  readonly matrix: QrMatrix;
  readonly minutes: number;
}

interface HelperLine {
  readonly id: string;
  readonly name: string;
  readonly since: string;
  readonly ended: boolean;
}

interface HelpersProps {
  build: string;
  name: string;
  /** Why nobody is let in, where the build is closed. */
  closed: string | null;
  light: Light | null;
  helpers: readonly HelperLine[];
  /** The code just made; it is shown this once. */
  open: OpenCode | null;
  /** Whether any phone can reach this server. */
  reachable: boolean;
  /** A certificate that phones can be made to trust is served here. */
  certificate: boolean;
}

/** The maker's page: a code to scan, and who has come in. */
export function HelpersPage(props: HelpersProps): Html {
  const { build, name, closed, light, helpers, open, reachable, certificate } = props;
  return (
    <Document title={`${say.helpersTitle} · ${name}`} light={light} bare styles={['join.css']}>
      <BookHead build={build} name={name} screen="contents" light={light} />
      <main id="sheet" tabindex={-1}>
        <div class="body">
          <h1>{say.helpersTitle}</h1>
          <p>{say.helpersWords}</p>
          {reachable ? null : <p class="threat">{say.notReachable}</p>}
          {open === null ? null : <Code open={open} />}
          {closed === null ? (
            <form method="post" action={`/b/${build}/helpers/codes`} class="letting-in">
              <button type="submit">{open === null ? say.makeCode : say.makeAnother}</button>
            </form>
          ) : (
            <p class="threat">{closed}</p>
          )}
          <h2>{say.helpers}</h2>
          {helpers.length === 0 ? <p>{say.noHelpers}</p> : null}
          <ul class="helpers">
            {helpers.map((helper) => (
              <Helper key={helper.id} build={build} helper={helper} />
            ))}
          </ul>
          <form method="post" action={`/b/${build}/helpers/codes/end`} class="letting-in">
            <button type="submit">{say.endCodes}</button>
          </form>
          <p>
            <a href={keysHref(build)}>{keyTexts.toHelpers}</a>
          </p>
          {certificate ? (
            <>
              <h2>{say.trust}</h2>
              <p>
                {say.trustWords} <a href="/certificate">{say.trustLoad}</a>
              </p>
            </>
          ) : null}
          <form method="post" action="/leave" class="letting-in">
            <button type="submit">{say.signOut}</button>
          </form>
        </div>
      </main>
    </Document>
  );
}

function Code({ open }: { open: OpenCode }): Html {
  return (
    <section class="code">
      <Qr matrix={open.matrix} />
      <div>
        <p>{say.codeLasts(open.minutes)}</p>
        <p>{say.orType(open.address)}</p>
        <p class="stamp">{open.code}</p>
      </div>
    </section>
  );
}

/** Dark squares as one path, with the four light modules around it that readers ask for. */
function Qr({ matrix }: { matrix: QrMatrix }): Html {
  const size = matrix.length;
  const path = matrix.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join('');
  return (
    <svg
      class="qr"
      viewBox={`-4 -4 ${size + 8} ${size + 8}`}
      role="img"
      aria-label={say.qrLabel}
      shape-rendering="crispEdges"
    >
      <rect x="-4" y="-4" width={size + 8} height={size + 8} class="qr-light" />
      <path d={path} class="qr-dark" />
    </svg>
  );
}

function Helper({ build, helper }: { build: string; helper: HelperLine }): Html {
  return (
    <li>
      <span>
        <b>{helper.name}</b> <span class="quiet">{say.since(helper.since)}</span>
      </span>
      {helper.ended ? (
        <span class="quiet">{say.ended}</span>
      ) : (
        <form method="post" action={`/b/${build}/helpers/${helper.id}/end`}>
          <button type="submit" aria-label={say.end(helper.name)}>
            {say.endWord}
          </button>
        </form>
      )}
    </li>
  );
}

function Plain({ title, children }: { title: string; children: Html | (Html | null)[] }): Html {
  return (
    <Document title={`${title} · ${frameTexts.product}`} light={null} bare styles={['join.css']} modules={['join.js']}>
      <header class="book">
        <p class="book-name">
          <strong>{frameTexts.product}</strong>
        </p>
      </header>
      <main id="sheet" tabindex={-1}>
        <div class="body">
          <p id="kept" hidden data-words={say.keptHere} />
          {children}
        </div>
      </main>
    </Document>
  );
}

function Wrong({ problem }: { problem: string | null }): Html | null {
  return problem === null ? null : (
    <p class="threat" role="alert">
      {problem}
    </p>
  );
}
