/**
 * `npm run bench -- same [COMMIT] [N] [EVERY]`: what the program of a commit forecasts otherwise, layer by layer, and
 * which commits since then account for it. Plans the builds of `askedOf`, N random ones among them (200 unless given),
 * by both programs and says by layer how many are alike. Each EVERY-th (6 unless given) is followed through the commits
 * between: by halving the way between the two it looks for those at which a layer changed, so that a difference has the
 * commit that made it for a cause, by name.
 */
import { mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Asked, askedOf } from './parts/asked.ts';
import { type Commit, commitHash, commitsSince, type Engine, engineAt, textAt } from './parts/engines.ts';
import { LAYERS, type Layer, type Layers, layersOf, workingMinutesOf } from './parts/layers.ts';

const FROM = '441b6bc';
const SCHEDULES = 10;
const FUTURES = 100;

export default async function same([from = FROM, count = '200', every = '6']: string[]): Promise<void> {
  const folder = join(tmpdir(), 'daywright-same');
  mkdirSync(folder, { recursive: true });
  const commits: Commit[] = [{ hash: commitHash(from), subject: 'the older program' }, ...commitsSince(from)];
  const line: Line = { commits, folder, engines: new Map() };
  const [old, here] = [await engineOf(line, 0), await engineOf(line, commits.length - 1)];
  const found = new Findings(commits);
  for (const [i, asked] of [...askedOf(old, textAt(from, 'README.md'), Number(count))].entries()) {
    if (!old.checkBuild(structuredClone(asked.build)).ok) {
      found.unread.push(asked.name);
      continue;
    }
    found.hold(asked.name, answerOf(old, asked), answerOf(here, asked));
    if (i % Number(every) === 0) found.trace(await changesOf(line, asked));
    process.stderr.write('.');
  }
  found.tell();
}

/** The programs from the older one to this, each imported when it is first asked. */
interface Line {
  readonly commits: readonly Commit[];
  readonly folder: string;
  readonly engines: Map<number, Engine>;
}

async function engineOf({ commits, folder, engines }: Line, i: number): Promise<Engine> {
  const known = engines.get(i) ?? (await engineAt(commits[i]!, folder));
  engines.set(i, known);
  return known;
}

/** A thrown error is an answer too, the same in every layer. */
function answerOf({ planBuild }: Engine, { build, log, now }: Asked): Layers {
  const levelling = { seed: 1, schedules: SCHEDULES };
  const risk = { seed: 1, futures: FUTURES };
  try {
    return layersOf(planBuild(structuredClone(build), log, now, { levelling, risk }), workingMinutesOf(build, now));
  } catch (error) {
    return Object.fromEntries(LAYERS.map((layer) => [layer, `throws ${error}`])) as Layers;
  }
}

/** A commit by its place, and the layers that it changed. */
interface Change {
  readonly commit: number;
  readonly layers: readonly Layer[];
}

/** The commits at which layers changed; a change that a later commit takes back whole may go unseen. */
async function changesOf(line: Line, asked: Asked): Promise<Change[]> {
  const answers = new Map<number, Layers>();
  const at = async (i: number): Promise<Layers> => {
    const known = answers.get(i) ?? answerOf(await engineOf(line, i), asked);
    answers.set(i, known);
    return known;
  };
  const between = async (low: number, high: number): Promise<Change[]> => {
    const layers = differing(await at(low), await at(high));
    if (layers.length === 0) return [];
    if (high - low === 1) return [{ commit: high, layers }];
    const middle = Math.floor((low + high) / 2);
    return [...(await between(low, middle)), ...(await between(middle, high))];
  };
  return between(0, line.commits.length - 1);
}

function differing(was: Layers, is: Layers): Layer[] {
  return LAYERS.filter((layer) => was[layer] !== is[layer]);
}

/** By layer: builds alike, builds that differ, and by commit those that it changed. */
class Findings {
  readonly unread: string[] = [];
  private readonly commits: readonly Commit[];
  private readonly alike = new Map<Layer, number>();
  private readonly differ = new Map<Layer, string[]>();
  private readonly causes = new Map<Layer, Map<number, { own: number; following: number }>>();
  private traced = 0;

  constructor(commits: readonly Commit[]) {
    this.commits = commits;
  }

  hold(name: string, was: Layers, is: Layers): void {
    for (const layer of LAYERS) {
      if (was[layer] === is[layer]) this.alike.set(layer, (this.alike.get(layer) ?? 0) + 1);
      else this.differ.set(layer, [...(this.differ.get(layer) ?? []), name]);
    }
  }

  /** A layer that changes together with an earlier one follows from that; else the commit changed it itself. */
  trace(changes: readonly Change[]): void {
    this.traced++;
    for (const { commit, layers } of changes) {
      for (const layer of layers) {
        const causes = this.causes.get(layer) ?? new Map();
        const sums = causes.get(commit) ?? { own: 0, following: 0 };
        sums[layers[0] === layer ? 'own' : 'following']++;
        this.causes.set(layer, causes.set(commit, sums));
      }
    }
  }

  tell(): void {
    if (this.unread.length > 0) console.log(`not read by the older program: ${this.unread.join(', ')}`);
    console.log(`followed through the commits: ${this.traced} builds`);
    for (const layer of LAYERS) {
      const names = this.differ.get(layer) ?? [];
      console.log(`${layer}: ${this.alike.get(layer) ?? 0} alike, ${names.length} differ`);
      if (names.length > 0) console.log(`  such as ${names.slice(0, 4).join(', ')}`);
      const causes = [...(this.causes.get(layer) ?? [])].sort((a, b) => b[1].own - a[1].own || a[0] - b[0]);
      for (const [commit, { own, following }] of causes) {
        const { hash, subject } = this.commits[commit]!;
        const sums = `${String(own).padStart(4)} itself ${String(following).padStart(4)} after an earlier layer`;
        console.log(`  ${sums}  ${hash?.slice(0, 7) ?? 'here'} ${subject}`);
      }
    }
  }
}
