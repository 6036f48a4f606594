/** The command line: what each command reads, answers and refuses. */
import { parseArgs } from 'node:util';
import { stringify } from 'yaml';
import { saidFormula } from '../../views/formulas/formula-words.ts';
import { commandTexts as say } from '../../views/texts/programs/command.ts';
import { formulaList, isZone, readWall } from '../engine/index.ts';
import {
  asRead,
  type Build,
  type BuildFile,
  buildFileSchema,
  FILE_FORMAT,
  FILE_VERSION,
  type Forecast,
  inWords,
  isError,
  type LogEntry,
  messageOf,
  type Problem,
  type Result,
  wordedProblem,
} from '../model/index.ts';
import {
  atOnce,
  besideForecast,
  computeLevers,
  computeWays,
  createPlanner,
  isTooLongForYaml,
  type LeversTask,
  MAKER,
  MOST_BUILD_MEGABYTES,
  MOST_FILE_MEGABYTES,
  type RunningPlanner,
} from '../planner/index.ts';
import { databaseFileOf, type Environment } from '../settings.ts';
import { createStore, openDatabase, restoreDatabase, type Store } from '../store/index.ts';
import { openApi } from '../web/api/openapi.ts';
import { ownVersion } from '../web/api/own-version.ts';
import { calendarChoice, calendarFile } from '../web/calendar-file.ts';
import { inLanguage, terminalLanguage } from '../web/language.ts';
import { formulasSummary } from './formulas-summary.ts';
import { leversSummary } from './levers-summary.ts';
import { buildFileAt } from './read-file.ts';
import { problemLine, summaryOf } from './summary.ts';
import { waysSummary } from './ways-summary.ts';

/** What the command line needs from the world. `now` in minutes since the epoch. */
interface World {
  readonly env: Environment;
  readonly now: () => number;
  readonly stamp: () => string;
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly plan: (build: Build, log: readonly LogEntry[], now: number, how?: HowToPlan) => Forecast;
}

/** What the maker asks of the search: another seed than the usual one, and seconds to search for. */
interface HowToPlan {
  readonly seed?: number;
  readonly seconds?: number;
}

const FINE = 0;
const BAD_INPUT = 2;

const FLAGS = {
  now: { type: 'string' },
  budget: { type: 'string' },
  seed: { type: 'string' },
  person: { type: 'string' },
  alarm: { type: 'string' },
  json: { type: 'boolean' },
  yaml: { type: 'boolean' },
  db: { type: 'string' },
  help: { type: 'boolean', short: 'h' },
} as const;

type Flags = ReturnType<typeof parseArgs<{ options: typeof FLAGS }>>['values'];

interface Command {
  /** What its one operand is called; null: it takes none. */
  readonly operand: string | null;
  readonly flags: readonly (keyof Flags)[];
  readonly run: (operand: string, flags: Flags, world: World) => number | Promise<number>;
}

const COMMANDS: Readonly<Record<string, Command>> = {
  plan: { operand: 'FILE', flags: ['now', 'budget', 'seed', 'json'], run: plan },
  levers: { operand: 'FILE', flags: ['now', 'seed', 'json'], run: besides(computeLevers, leversSummary) },
  ways: { operand: 'FILE', flags: ['now', 'seed', 'json'], run: besides(computeWays, waysSummary) },
  formulas: { operand: null, flags: ['json'], run: formulas },
  schema: { operand: null, flags: [], run: schema },
  openapi: { operand: null, flags: [], run: api },
  calendar: { operand: 'FILE', flags: ['now', 'person', 'alarm'], run: calendar },
  import: { operand: 'FILE', flags: ['db'], run: bring },
  export: { operand: 'BUILD', flags: ['db', 'yaml'], run: give },
  close: { operand: 'BUILD', flags: ['db'], run: (id, flags, world) => setClosed(id, flags, world, true) },
  reopen: { operand: 'BUILD', flags: ['db'], run: (id, flags, world) => setClosed(id, flags, world, false) },
  backup: { operand: 'FILE', flags: ['db'], run: backup },
  restore: { operand: 'FILE', flags: ['db'], run: restore },
};

/**
 * Runs one command and returns its exit code. Answers go to `out`, sentences about what was wrong to `err`, in the
 * language of the terminal.
 */
export function runCommand(args: readonly string[], world: World): Promise<number> {
  return inLanguage(terminalLanguage(world.env), () => run(args, world));
}

async function run(args: readonly string[], world: World): Promise<number> {
  const read = readArguments(args);
  if (!read.ok) return refuse(world, read.problems);
  const { command, operand, flags } = read.value;
  if (command === null) {
    world.out(say.help(MOST_FILE_MEGABYTES, MOST_BUILD_MEGABYTES));
    return FINE;
  }
  return command.run(operand, flags, world);
}

interface Arguments {
  readonly command: Command | null;
  readonly operand: string;
  readonly flags: Flags;
}

function readArguments(args: readonly string[]): Result<Arguments> {
  const wrong = (message: string): Result<never> => ({
    ok: false,
    problems: [wordedProblem('shape', 'command', args.join(' '), say.wrong.seeHelp(message))],
  });
  let flags: Flags;
  let words: string[];
  try {
    ({ values: flags, positionals: words } = parseArgs({
      args: withNegatives(args),
      options: FLAGS,
      allowPositionals: true,
    }));
  } catch (error) {
    return wrong(`${(error as Error).message.split('.')[0]}.`);
  }
  if (flags.help) return { ok: true, value: { command: null, operand: '', flags } };
  const [name, operand, ...more] = words;
  if (name === undefined) return wrong(say.wrong.noCommand(Object.keys(COMMANDS).join(', ')));
  if (name === 'help') return { ok: true, value: { command: null, operand: '', flags } };
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!command) return wrong(say.wrong.notCommand(name, Object.keys(COMMANDS).join(', ')));
  const stray = Object.keys(flags).find((flag) => !command.flags.includes(flag as keyof Flags));
  if (stray !== undefined) return wrong(say.wrong.stray(stray, name));
  if (command.operand !== null && operand === undefined) return wrong(say.wrong.needs(name, command.operand));
  const extra = command.operand === null ? operand : more[0];
  if (extra !== undefined) return wrong(say.wrong.tooMany(extra, name));
  return { ok: true, value: { command, operand: operand ?? '', flags } };
}

/** A number below zero after a flag is its value, so that what reads the flag can say what would be right. */
function withNegatives(args: readonly string[]): string[] {
  const read: string[] = [];
  for (const word of args) {
    const flag = read.at(-1) ?? '';
    if (/^-\d/.test(word) && /^--[a-z-]+$/.test(flag)) read[read.length - 1] = `${flag}=${word}`;
    else read.push(word);
  }
  return read;
}

function plan(path: string, flags: Flags, world: World): number {
  const how = howToPlan(flags);
  if (!how.ok) return refuse(world, how.problems);
  const read = fileAndNow(path, flags, world);
  if (!read.ok) return refuse(world, read.problems);
  const { build, log, now } = read.value;
  const forecast = world.plan(build, log, now, how.value);
  const asData = (): object => ({ ...forecast, problems: forecast.problems.map((it) => inWords(it)) });
  world.out(flags.json ? `${JSON.stringify(asData(), null, 2)}\n` : summaryOf(forecast));
  const errors = forecast.problems.filter(isError);
  return errors.length > 0 ? refuse(world, errors) : FINE;
}

function calendar(path: string, flags: Flags, world: World): number {
  const read = fileAndNow(path, flags, world);
  if (!read.ok) return refuse(world, read.problems);
  const { build, log, now } = read.value;
  const choice = calendarChoice(build, flags.person, flags.alarm);
  if (!choice.ok) return refuse(world, choice.problems);
  const forecast = world.plan(build, log, now);
  const errors = forecast.problems.filter(isError);
  if (!isZone(build.zone)) return refuse(world, errors);
  world.out(calendarFile(build, forecast, choice.value));
  return errors.length > 0 ? refuse(world, errors) : FINE;
}

interface Given {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly now: number;
}

/** The build in a file, and the instant to plan at. */
function fileAndNow(path: string, flags: Flags, world: World): Result<Given> {
  const shape = readNow(flags.now, 'UTC', world);
  if (!shape.ok) return shape;
  const file = buildFileAt(path);
  if (!file.ok) return file;
  const { build, log = [] } = file.value;
  const now = readNow(flags.now, isZone(build.zone) ? build.zone : 'UTC', world);
  return now.ok ? { ok: true, value: { build, log, now: now.value } } : now;
}

/** A command that works something out beside the plan of a file and says it in words, or as JSON. */
function besides<T>(
  find: (asked: LeversTask) => T,
  summary: (build: Given['build'], found: T) => string,
): Command['run'] {
  return (path, flags, world) => {
    const read = fileAndNow(path, flags, world);
    if (!read.ok) return refuse(world, read.problems);
    const how = howToPlan(flags);
    if (!how.ok) return refuse(world, how.problems);
    const { build, log, now } = read.value;
    const { seed } = how.value;
    const own = seed === undefined ? {} : { seed };
    const forecast = world.plan(build, log, now, own);
    const found = find({ ...read.value, ...own, ...besideForecast(forecast) });
    world.out(flags.json ? `${JSON.stringify(found, asRead, 2)}\n` : summary(build, found));
    // What is wrong with the build is why nothing may have been found.
    const errors = forecast.problems.filter(isError);
    return errors.length > 0 ? refuse(world, errors) : FINE;
  };
}

/** A time without an offset is read on the clock of the zone. */
function readNow(text: string | undefined, zone: string, world: World): Result<number> {
  if (text === undefined) return { ok: true, value: world.now() };
  const read = readWall(text, zone);
  if (read.ok) return read;
  return {
    ok: false,
    problems: [wordedProblem('not-a-date', '--now', text, `${messageOf(read.problem)} ${say.wrong.now}`)],
  };
}

const LONGEST_BUDGET = 3600;
const LARGEST_SEED = 2 ** 31 - 1;

function howToPlan({ budget, seed }: Flags): Result<HowToPlan> {
  const problems: Problem[] = [];
  const seconds = budget === undefined ? undefined : Number(budget);
  if (seconds !== undefined && !(seconds > 0 && seconds <= LONGEST_BUDGET)) {
    const message = say.wrong.budget(LONGEST_BUDGET, budget!);
    problems.push(wordedProblem('shape', '--budget', budget, message));
  }
  const number = seed === undefined ? undefined : Number(seed);
  if (number !== undefined && !(/^\d+$/.test(seed!) && number <= LARGEST_SEED)) {
    const message = say.wrong.seed(LARGEST_SEED, seed!);
    problems.push(wordedProblem('shape', '--seed', seed, message));
  }
  if (problems.length > 0) return { ok: false, problems };
  const asked = { ...(number === undefined ? {} : { seed: number }), ...(seconds === undefined ? {} : { seconds }) };
  return { ok: true, value: asked };
}

function formulas(_: string, flags: Flags, world: World): number {
  const listed = formulaList();
  world.out(flags.json ? `${JSON.stringify(listed.map(saidFormula), null, 2)}\n` : formulasSummary(listed));
  return FINE;
}

function schema(_: string, __: Flags, world: World): number {
  world.out(`${JSON.stringify(buildFileSchema(), null, 2)}\n`);
  return FINE;
}

function api(_: string, __: Flags, world: World): number {
  world.out(`${JSON.stringify(openApi(ownVersion()), null, 2)}\n`);
  return FINE;
}

function bring(path: string, flags: Flags, world: World): Promise<number> {
  const file = buildFileAt(path);
  if (!file.ok) return Promise.resolve(refuse(world, file.problems));
  return withDatabase(flags, world, async (planner) => {
    const { build, log = [] } = file.value;
    const made = await planner.create(build, log, MAKER);
    if (!made.ok) return refuse(world, made.problems);
    const forecast = planner.latest(build.id)?.forecast;
    for (const one of forecast?.problems ?? []) world.err(`${problemLine(one)}\n`);
    world.out(`${say.done.takenIn(build.name, build.id, log.length)}\n`);
    return FINE;
  });
}

function give(id: string, flags: Flags, world: World): Promise<number> {
  return withDatabase(flags, world, (planner) => {
    const found = planner.build(id);
    if (!found) return refuse(world, [noBuild(planner, id)]);
    const log = planner.log(id);
    const file: BuildFile = { format: FILE_FORMAT, version: FILE_VERSION, build: found.build, log };
    if (!flags.yaml) {
      world.out(`${JSON.stringify(file, null, 2)}\n`);
      return FINE;
    }
    const text = stringify(file);
    // It could not be read in again.
    if (isTooLongForYaml(text))
      return refuse(world, [wordedProblem('too-large', '--yaml', log.length, say.wrong.tooLongForYaml(log.length))]);
    world.out(text);
    return FINE;
  });
}

/** Closes a build, or reopens it; a server that runs on the same database takes it from there. */
function setClosed(id: string, flags: Flags, world: World, isClosed: boolean): Promise<number> {
  return withDatabase(flags, world, (planner) => {
    const found = planner.build(id);
    if (!found) return refuse(world, [noBuild(planner, id)]);
    if (!isClosed && planner.closed(id) === null) {
      const message = say.wrong.notClosed(id);
      return refuse(world, [wordedProblem('shape', 'build', id, message)]);
    }
    const done = isClosed ? planner.closeBuild(id, MAKER) : planner.reopenBuild(id);
    if (!done.ok) return refuse(world, done.problems);
    world.out(`${say.done[isClosed ? 'closed' : 'reopened'](found.build.name, id)}\n`);
    return FINE;
  });
}

function noBuild(planner: RunningPlanner, id: string): Problem {
  const there = planner.builds().map((build) => build.id);
  const message = say.wrong.noBuild(id, there);
  return wordedProblem('unknown-name', 'build', id, message);
}

function backup(path: string, flags: Flags, world: World): Promise<number> {
  return withDatabase(flags, world, async (_, store) => {
    try {
      await store.backup(path);
    } catch (error) {
      const message = say.wrong.noBackup(path, (error as Error).message);
      return refuse(world, [wordedProblem('shape', 'file', path, message)]);
    }
    world.out(`${say.done.backedUp(path)}\n`);
    return FINE;
  });
}

async function restore(path: string, flags: Flags, world: World): Promise<number> {
  const file = databaseFileOf(flags.db, world.env);
  const restored = await restoreDatabase(path, file);
  if (!restored.ok) return refuse(world, restored.problems);
  const { keptAs } = restored.value;
  const kept = keptAs === null ? [] : [say.done.keptAs(keptAs)];
  world.out(`${[say.done.restored(file, path), ...kept].join(' ')}\n`);
  return FINE;
}

async function withDatabase(
  flags: Flags,
  world: World,
  work: (planner: RunningPlanner, store: Store) => number | Promise<number>,
): Promise<number> {
  const db = openDatabase(databaseFileOf(flags.db, world.env));
  if (!db.ok) return refuse(world, db.problems);
  const store = createStore(db.value);
  const { now, stamp } = world;
  const planner = createPlanner({ store, now, stamp, background: atOnce });
  try {
    return await work(planner, store);
  } finally {
    planner.close();
    store.close();
  }
}

function refuse(world: World, problems: readonly Problem[]): number {
  for (const one of problems) world.err(`${problemLine(one)}\n`);
  return BAD_INPUT;
}
