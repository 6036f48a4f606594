/**
 * Levelling against the public sets: `npm run -s bench -- psplib FOLDER [--set j30,j60] [--schedules N | --seconds S]
 * [--seed K]`. One line an instance on standard output (CSV), a summary of each set on standard error. Milliseconds are
 * those of the processor for this process: compiling and levelling, without reading the file. Every schedule is judged
 * by the independent checker.
 */
import { existsSync, readdirSync } from 'node:fs';
import { compile, level } from '../../server/engine/07-levelling/index.ts';
import { judged } from '../support/check-schedule.ts';
import { type Instance, readInstance, readSet } from '../support/psplib.ts';

/** Nodes of the exact search that a run counted in schedules may spend: its time stays that of the schedules. */
const NODES = 0;

export default function psplib(args: string[]): void {
  const [folder, ...rest] = args;
  const option = (name: string) => {
    const at = rest.indexOf(`--${name}`);
    return at < 0 ? null : (rest[at + 1] ?? null);
  };
  if (folder === undefined || !existsSync(folder)) {
    console.error(`Which folder? It holds SET.csv and SET/FILE for each set. Got: ${folder ?? 'nothing'}.`);
    process.exitCode = 2;
    return;
  }
  const there = readdirSync(folder)
    .filter((file) => file.endsWith('.csv'))
    .map((file) => file.slice(0, -4));
  const sets = option('set')?.split(',') ?? there;
  const unknown = sets.filter((set) => !there.includes(set));
  const seconds = option('seconds') === null ? null : Number(option('seconds'));
  const schedules = seconds === null ? Number(option('schedules') ?? 1000) : null;
  const seed = Number(option('seed') ?? 1);
  if (unknown.length > 0 || !((seconds ?? schedules ?? 0) > 0) || !Number.isInteger(seed)) {
    console.error(
      `--set takes some of ${there.join(',')}; --schedules or --seconds a number above 0; --seed a whole number.`,
    );
    process.exitCode = 2;
    return;
  }
  console.log('instance,makespan,lower_bound,schedules,milliseconds');
  for (const set of sets)
    summarize(
      set,
      readSet(folder, set).map((instance, i) => run(folder, instance, schedules, seconds, seed + i)),
    );
}

interface Line {
  readonly instance: Instance;
  readonly makespan: number;
  readonly lowerBound: number;
  readonly schedules: number;
  readonly milliseconds: number;
}

function run(folder: string, instance: Instance, schedules: number | null, seconds: number | null, seed: number): Line {
  const work = readInstance(folder, instance.file);
  const before = process.cpuUsage();
  const clock = () => performance.now();
  const options =
    seconds === null
      ? { seed, schedules: schedules!, nodes: NODES }
      : { seed, milliseconds: seconds * 1000, clock, nodes: Number.MAX_SAFE_INTEGER };
  const levelled = level(work, options, compile(work));
  const used = process.cpuUsage(before);
  const makespan = judged(work, levelled.schedule, instance.name).finishAt - work.now;
  const line = {
    instance,
    makespan,
    lowerBound: levelled.bound.readyAt - work.now,
    schedules: levelled.schedules,
    milliseconds: (used.user + used.system) / 1000,
  };
  console.log([instance.name, makespan, line.lowerBound, line.schedules, line.milliseconds.toFixed(1)].join(','));
  return line;
}

function summarize(set: string, lines: readonly Line[]): void {
  const mean = (value: (line: Line) => number) => lines.reduce((sum, line) => sum + value(line), 0) / lines.length;
  const percent = (value: number, of: number) => (value / of - 1) * 100;
  const overBest = mean((line) => percent(line.makespan, line.instance.bestKnown));
  const overPath = mean((line) => percent(line.makespan, line.instance.criticalPath));
  const bestOverPath = mean((line) => percent(line.instance.bestKnown, line.instance.criticalPath));
  const proved = lines.filter((line) => line.lowerBound >= line.makespan).length;
  const wrong = lines.filter(
    (line) => line.lowerBound > line.instance.bestKnown || line.makespan < line.instance.lowerBound,
  );
  const spent = lines.reduce((sum, line) => sum + line.milliseconds, 0);
  const schedules = lines.reduce((sum, line) => sum + line.schedules, 0);
  const against = lines.every((line) => line.instance.lowerBound === line.instance.bestKnown)
    ? 'the optimum'
    : 'the best known';
  console.error(
    `${set}: ${lines.length} instances, ${overBest.toFixed(3)} % above ${against}, ${overPath.toFixed(2)} % above the critical path ` +
      `(best known ${bestOverPath.toFixed(2)} %), ${lines.filter((line) => line.makespan <= line.instance.bestKnown).length} reach the best known, ` +
      `${proved} proved, ${schedules} schedules, ${((spent * 1000) / Math.max(1, schedules)).toFixed(1)} microseconds a schedule with everything`,
  );
  for (const { instance, makespan, lowerBound } of wrong) {
    console.error(
      `${instance.name}: ${lowerBound} to ${makespan} contradicts the published ${instance.lowerBound} to ${instance.bestKnown}`,
    );
  }
}
