#!/usr/bin/env node
/** `daywright` on the command line: brings the clock, the environment and the terminal to `cli/run.ts`. */
import { runCommand } from './cli/run.ts';
import { computePlan } from './planner/index.ts';

// A reader such as `head` may close its end early; that is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

process.exitCode = await runCommand(process.argv.slice(2), {
  env: process.env,
  now: () => Math.floor(Date.now() / 60_000),
  stamp: () => new Date().toISOString(),
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  plan: (build, log, now, how) => computePlan({ build, log, now, depth: 'deep', ...how }),
});
