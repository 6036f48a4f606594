/** Which Daywright this is, as its package says. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../assets.ts';

/** Such as `0.1.0`. */
export function ownVersion(): string {
  return (JSON.parse(readFileSync(join(projectRoot(), 'package.json'), 'utf8')) as { version: string }).version;
}
