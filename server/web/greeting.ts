/** What the terminal says of the ways in. Keys and codes stand here and nowhere else; they are not for a log. */
import { renderUnicodeCompact } from 'uqr';
import { accessTexts } from '../../views/texts/access.ts';
import { addressText, type Entrance, isLoopback } from './entrance.ts';
import { joinLink, openJoinCode, type WaysIn } from './routes/access.ts';

const say = accessTexts.terminal;

interface Greeted {
  readonly entrance: Entrance;
  readonly ways: WaysIn;
  readonly host: string;
  readonly port: number;
  /** The build that helpers are shown a code for; null: there is none yet. */
  readonly build: { readonly id: string; readonly name: string } | null;
}

/**
 * Lines for the terminal: the key if it is new, the link of this start where a key is asked for, a code for a helper.
 */
export function greeting({ entrance, ways, host, port, build }: Greeted): string[] {
  const lines: string[] = [];
  if (entrance.newKey !== null) {
    lines.push(say.key(entrance.newKey), say.keep);
  }
  if (!ways.trustLoopback) {
    const here = isLoopback(host) || host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
    lines.push(say.signIn(`${addressText(here, port, ways.secure)}/enter#${entrance.startCode}`));
  }
  const address = ways.addresses()[0];
  const code = address === undefined || build === null ? null : openJoinCode(ways, build.id);
  if (address !== undefined && build !== null && code !== null)
    lines.push(...helperCode(joinLink(address, code), build.name));
  return lines;
}

/** A link to scan, drawn with the half blocks of the terminal. */
export function helperCode(link: string, buildName: string): string[] {
  return [say.join(buildName), renderUnicodeCompact(link, { border: 2 }), link];
}
