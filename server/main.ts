/** `npm start`: reads the settings, serves until it is told to stop, and says in words what keeps it from doing so. */
import { setFlagsFromString } from 'node:v8';
import { messageOf, type Problem, problemWords } from './model/index.ts';
import { serve } from './serve.ts';
import { readSettings, serverHelp } from './settings.ts';
import { inLanguage, terminalLanguage } from './web/language.ts';

const BAD_INPUT = 2;

/**
 * `npm start` gives this thread little room for what is young, so that the collector, which copies what lives on, never
 * holds a request for long. The threads that plan take the room that they ask for. One thread of the engine is enough
 * to compile and collect beside them: more would take the core from this one, since they are no less urgent.
 */
setFlagsFromString('--max-semi-space-size=0');

const say = problemWords.serving;

function refuse(problems: readonly Problem[]): void {
  for (const one of problems) process.stderr.write(`${messageOf(one)}\n`);
  process.exitCode = BAD_INPUT;
}

function report(error: unknown): void {
  process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
}

function show(lines: readonly string[]): void {
  for (const line of lines) process.stdout.write(`${line}\n`);
}

async function start(): Promise<void> {
  const settings = readSettings(process.argv.slice(2), process.env);
  if (!settings.ok) return refuse(settings.problems);
  if (settings.value.help) {
    process.stdout.write(serverHelp());
    return undefined;
  }
  const serving = await serve(settings.value, { nowMilliseconds: Date.now, report, show });
  if (!serving.ok) return refuse(serving.problems);
  const { addresses, seeded, greeting, close } = serving.value;
  if (seeded.length > 0) show([say.seeded(seeded.join('", "'))]);
  show([say.at(addresses.join(' and '))]);
  show(greeting);

  let stopping = false;
  const stop = (): void => {
    if (stopping) process.exit(1);
    stopping = true;
    close().catch((error: unknown) => {
      report(error);
      process.exitCode = 1;
    });
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);
  return undefined;
}

await inLanguage(terminalLanguage(process.env), start);
