/** One job of the queue of background work, and what it is to others. */

import type { JobKind, JobView, Version } from '../types.ts';
import { isNewer, sameVersion } from './fresh.ts';
import { type Hand, SIGNAL } from './tasks.ts';

/** Kinds of jobs, the most urgent first. */
const JOB_KINDS: readonly JobKind[] = [
  'answer',
  'see-first',
  'search',
  'what-if',
  'levers',
  'sizes',
  'ways',
  'ledger',
  'past',
];

export interface Wanted<T> {
  readonly kind: JobKind;
  /** The id of the build that it is for. */
  readonly build: string;
  /** The state of the build that it is for. */
  readonly version: Version;
  /** Whether it is wanted although the build moves on: a check that somebody waits for, a row of the past. */
  readonly lasting?: boolean;
  /** Asked when its turn comes; false: it is dropped. Left out: it is wanted. */
  readonly isWanted?: () => boolean;
  readonly run: (hand: Hand) => Promise<T>;
}

/** A job that waits or is under way. */
export interface Job extends Wanted<unknown> {
  readonly number: number;
  readonly answer: Promise<unknown>;
  readonly settle: (value: unknown) => void;
  readonly fail: (error: unknown) => void;
  readonly signal: Int32Array;
  done: number;
  total: number;
  isRunning: boolean;
}

/** The jobs there are. */
export interface Line {
  readonly waiting: Job[];
  readonly running: Set<Job>;
}

/** A job that has not begun. */
export function jobOf(wanted: Wanted<unknown>, number: number): Job {
  let settle: (value: unknown) => void = () => undefined;
  let fail: (error: unknown) => void = () => undefined;
  const answer = new Promise((resolve, reject) => {
    settle = resolve;
    fail = reject;
  });
  const signal = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  return { ...wanted, number, answer, settle, fail, signal, done: 0, total: 0, isRunning: false };
}

/** The most urgent first, and of the same kind the oldest. */
export function byUrgency(a: Job, b: Job): number {
  return JOB_KINDS.indexOf(a.kind) - JOB_KINDS.indexOf(b.kind) || a.number - b.number;
}

/** One name for the jobs of a kind of a build. */
export function keyOf({ kind, build }: Pick<Job, 'kind' | 'build'>): string {
  return `${kind} ${build}`;
}

/** Whether the answer of a job is what is wanted. */
export function isSame(job: Job, wanted: Wanted<unknown>): boolean {
  if (job.lasting === true || wanted.lasting === true) return false;
  return keyOf(job) === keyOf(wanted) && sameVersion(job.version, wanted.version);
}

/** What waits for an older state of a build is not wanted any more once a newer one is asked for. */
export function isOlder(job: Job, than: Wanted<unknown>): boolean {
  return job.lasting !== true && job.build === than.build && isNewer(than.version, job.version);
}

/** Whether something newer was asked for the same build meanwhile. */
export function isOutOfDate({ waiting, running }: Line, job: Job): boolean {
  if (job.lasting === true) return false;
  return [...waiting, ...running].some((other) => other.lasting !== true && isOlder(job, other));
}

/** The least urgent job under way that should give way to this one. */
export function leastUrgent({ running }: Line, asked: Job): Job | undefined {
  const isLess = (job: Job): boolean => JOB_KINDS.indexOf(job.kind) > JOB_KINDS.indexOf(asked.kind);
  return [...running].filter(isLess).sort((a, b) => byUrgency(b, a))[0];
}

/** Tells a job under way to leave its work, to be begun again or given up. */
export function leave({ signal }: Job): void {
  Atomics.store(signal, 0, SIGNAL.leave);
}

/** A job as it is shown. */
export function viewOf({ number, kind, build, version, isRunning, done, total }: Job): JobView {
  return { job: number, kind, build, version, isRunning, done, total };
}
