import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { runCommand } from '../../server/cli/run.ts';
import { planBuild } from '../../server/engine/plan.ts';
import type { Build, BuildFile, LogEntry } from '../../server/model/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { scratch } from '../store/helpers.ts';

export interface Answer {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs a command at noon on 30 November 2026 (UTC) with an environment of its own. */
export async function daywright(args: readonly string[], env: Record<string, string> = {}): Promise<Answer> {
  let [out, err] = ['', ''];
  const code = await runCommand(args, {
    env,
    now: () => NOON,
    stamp: () => '2026-11-30T12:00:00.000Z',
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    plan: (build, log, now, { seed = 1, seconds } = {}) =>
      planBuild(build, log, now, {
        levelling: { seed, schedules: seconds === undefined ? 1000 : 1000 * seconds },
        risk: { seed, futures: 200 },
      }),
  });
  return { code, out, err };
}

/** A file of that content (any other object as JSON) in a folder that is gone after the test. */
export function fileOf(content: string | Buffer | object, name = 'build.json'): string {
  const path = join(scratch(), name);
  writeFileSync(path, typeof content === 'string' || Buffer.isBuffer(content) ? content : JSON.stringify(content));
  return path;
}

export function buildFile(build: Build, log?: LogEntry[]): BuildFile {
  return { format: 'daywright-build', version: 1, build, ...(log ? { log } : {}) };
}
