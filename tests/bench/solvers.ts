/**
 * Levelling for one second of one core beside Chuffed for ten, on the same instances in the same run: `npm run -s bench
 * -- solvers [FOLDER] [--set j60,j120] [--every N] [--seed K]`; one instance in ten unless told otherwise, FOLDER the
 * one beside the repository. Chuffed comes with the WebAssembly build of MiniZinc, a dev-dependency; without it this
 * says so and ends. The model is the textbook one: start times, precedences, a cumulative constraint for each pool, the
 * earliest start first, which free search alternates with its own; reading the model counts among the ten seconds.
 */
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';
import { compile, level } from '../../server/engine/07-levelling/index.ts';
import type { Work } from '../../server/engine/types.ts';
import { judged } from '../support/check-schedule.ts';
import { benchmarkFolder, readInstance, readSet } from '../support/psplib.ts';

const OWN_MILLISECONDS = 1000;
const SOLVER_MILLISECONDS = 10_000;

export default async function solvers(args: string[]): Promise<void> {
  const isFolderGiven = args[0] !== undefined && !args[0].startsWith('--');
  const folder = isFolderGiven ? args[0] : (benchmarkFolder() ?? undefined);
  const rest = isFolderGiven ? args.slice(1) : args;
  const option = (name: string, otherwise: string) => {
    const at = rest.indexOf(`--${name}`);
    return at < 0 ? otherwise : (rest[at + 1] ?? otherwise);
  };
  if (folder === undefined || !existsSync(folder)) {
    console.error(`Which folder? It holds SET.csv and SET/FILE for each set. Got: ${folder ?? 'nothing'}.`);
    process.exitCode = 2;
    return;
  }
  const solve = chuffed();
  if (solve === null) {
    console.error('Chuffed is not here (the dev-dependency minizinc is missing): nothing to compare with.');
    return;
  }
  const every = Number(option('every', '10'));
  const seed = Number(option('seed', '1'));
  console.log('instance,best_known,own_makespan,own_milliseconds,chuffed_makespan,chuffed_milliseconds');
  for (const set of option('set', 'j60,j120').split(',')) {
    const gaps = { own: 0, chuffed: 0, count: 0, none: 0 };
    for (const instance of readSet(folder, set).filter((_, i) => i % every === 0)) {
      const work = readInstance(folder, instance.file);
      const began = performance.now();
      const { schedule } = level(
        work,
        { seed, milliseconds: OWN_MILLISECONDS, clock: () => performance.now() },
        compile(work),
      );
      const between = performance.now();
      const own = judged(work, schedule, instance.name).finishAt;
      const asked = performance.now();
      const theirs = await solve(work);
      const ended = performance.now();
      console.log(
        [
          instance.name,
          instance.bestKnown,
          own,
          (between - began).toFixed(0),
          theirs ?? '',
          (ended - asked).toFixed(0),
        ].join(','),
      );
      if (theirs === null) gaps.none++;
      else {
        gaps.own += (own / instance.bestKnown - 1) * 100;
        gaps.chuffed += (theirs / instance.bestKnown - 1) * 100;
        gaps.count++;
      }
    }
    console.error(
      `${set}: ${gaps.count} instances that both solved; above the best known: own search ${(gaps.own / gaps.count).toFixed(3)} % in ` +
        `${OWN_MILLISECONDS / 1000} s, Chuffed ${(gaps.chuffed / gaps.count).toFixed(3)} % in ${SOLVER_MILLISECONDS / 1000} s; ${gaps.none} more where Chuffed found nothing`,
    );
  }
  process.exit(0);
}

/** What a worker of the package runs in: the few globals of a browser's worker that it asks for. */
const WORKER = `
const { parentPort, workerData } = require('node:worker_threads');
globalThis.require = require;
globalThis.__filename = workerData;
globalThis.__dirname = require('node:path').dirname(workerData);
globalThis.addEventListener = (name, listener) => parentPort.on(name, (data) => listener({ data }));
globalThis.postMessage = (data) => parentPort.postMessage(data);
require('node:vm').runInThisContext(require('node:fs').readFileSync(workerData, 'utf8'), { filename: workerData });
`;

interface SolverMessage {
  readonly type: string;
  readonly output?: { readonly json?: { readonly end?: number } };
  readonly message?: string;
}

/** A function that asks Chuffed for the best makespan it finds in its time; null without the package. */
function chuffed(): ((work: Work) => Promise<number | null>) | null {
  const file = (name: string) => createRequire(import.meta.url).resolve(`minizinc/${name}`);
  let script: string;
  try {
    script = file('minizinc-worker.js');
  } catch {
    return null;
  }
  return (work) =>
    new Promise((resolve, reject) => {
      const worker = new Worker(WORKER, { eval: true, workerData: script });
      let best: number | null = null;
      let stop: NodeJS.Timeout;
      const end = () => {
        clearTimeout(stop);
        void worker.terminate();
        resolve(best);
      };
      worker.on('error', reject);
      worker.on('message', (message: SolverMessage) => {
        if (message.type === 'ready') {
          worker.postMessage({
            jsonStream: true,
            files: { 'work.mzn': modelOf(work) },
            args: [
              '-i',
              '-f',
              '--output-mode',
              'json',
              '--solver',
              'org.minizinc.chuffed',
              '--time-limit',
              `${SOLVER_MILLISECONDS}`,
              'work.mzn',
            ],
          });
          stop = setTimeout(end, SOLVER_MILLISECONDS);
        } else if (message.type === 'solution') best = message.output?.json?.end ?? best;
        else if (message.type === 'error') console.error(message.message);
        else if (message.type === 'exit') end();
      });
      worker.postMessage({ wasmURL: file('minizinc.wasm'), dataURL: file('minizinc.data') });
    });
}

function modelOf(work: Work): string {
  const minutes = work.lots.map((lot) =>
    lot.phases.reduce((sum, phase) => sum + (phase.kind === 'lead' ? 0 : phase.minutes), 0),
  );
  const demand = (l: number, r: number) => {
    const phase = work.lots[l]!.phases[0];
    return phase?.kind === 'demand' ? phase.demands.reduce((sum, d) => sum + (d.resource === r ? d.amount : 0), 0) : 0;
  };
  const horizon = minutes.reduce((a, b) => a + b, 0);
  const cumulative = work.resources.map(({ capacity }, r) => {
    const lots = [...work.lots.keys()].filter((l) => demand(l, r) > 0 && minutes[l]! > 0);
    if (lots.length === 0) return '';
    return `constraint cumulative([${lots.map((l) => `s[${l + 1}]`)}], [${lots.map((l) => minutes[l]!)}], [${lots.map((l) => demand(l, r))}], ${capacity});`;
  });
  return [
    'include "cumulative.mzn";',
    `array[1..${work.lots.length}] of var 0..${horizon}: s;`,
    `var 0..${horizon}: end;`,
    ...work.links.map(({ from, to }) => `constraint s[${from + 1}] + ${minutes[from]!} <= s[${to + 1}];`),
    ...work.lots.map((_, l) => `constraint s[${l + 1}] + ${minutes[l]!} <= end;`),
    ...cumulative,
    'solve :: int_search(s, smallest, indomain_min) minimize end;',
  ].join('\n');
}
