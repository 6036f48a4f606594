/**
 * Works a drawn build off, minute by minute, and taps what happens: see `drawMaker`. Whoever works does what a sheet
 * may ask of them: they work in their hours alone, and a lot that they have begun is done before they take up another
 * or see to the machine. Only the hours part work.
 */
import { Random } from '../../../server/engine/numbers/random.ts';
import type { LogEntry } from '../../../server/model/index.ts';
import { BEGIN, type Job, type Maker, type Span } from './simulated-makers.ts';

const DAY = 1440;
const MORNING = 6 * 60;
const DAYS_AT_MOST = 300;
/** Single units scatter by a quarter around their step's pace, a lognormal. */
const UNIT_SIGMA = Math.sqrt(Math.log(1 + 0.25 ** 2));

export interface Story {
  /** All that was ever tapped. */
  readonly log: readonly LogEntry[];
  /** The morning after about half of the hands' work was done. */
  readonly halfAt: number;
  readonly readyAt: number;
}

/**
 * What happened to the maker: the same seed, the same story. Days are lost as a whole, by everybody, at the maker's own
 * rate.
 */
export function liveThrough(maker: Maker, seed: number): Story {
  return new Workshop(maker, new Random(seed)).run();
}

/** What a maker would tap until `now`. */
export function tappedBefore({ log }: Story, now: number): LogEntry[] {
  return log.filter(({ at }) => Date.parse(at) <= now * 60_000);
}

/** Estimated minutes of hands of one unit, its share of the lot's own counted in. */
export function estimatedMinutes({ lotMinutes, lotSize, unitMinutes }: Job): number {
  return unitMinutes + lotMinutes / lotSize;
}

/** Whether anybody of this maker may be at work in the minute. */
export function isOpen(maker: Maker, minute: number): boolean {
  return maker.build.people!.some((_, person) => isThere(maker, person, minute));
}

/** Whether this person may be at work in the minute. */
export function isThere(maker: Maker, person: number, minute: number): boolean {
  return spanAt(maker, person, minute) !== undefined;
}

function spanAt(maker: Maker, person: number, minute: number): Span | undefined {
  const [begin, spans] = spansOf(maker, person, minute);
  return spans.find(([from, to]) => minute >= begin + from && minute < begin + to);
}

function spansOf({ week, build }: Maker, person: number, minute: number): readonly [begin: number, readonly Span[]] {
  const day = Math.floor((minute - BEGIN) / DAY);
  return [BEGIN + day * DAY, week[(day % 7) * build.people!.length + person]!];
}

/** When somebody who is there goes. */
function goesAt(maker: Maker, person: number, minute: number): number {
  const [begin] = spansOf(maker, person, minute);
  return begin + (spanAt(maker, person, minute)?.[1] ?? minute - begin);
}

/** When somebody is there at or after this minute. */
function comesAt(maker: Maker, person: number, minute: number): number {
  for (let from = minute; ; ) {
    const [begin, spans] = spansOf(maker, person, from);
    const span = spans.find(([, to]) => begin + to > from);
    if (span !== undefined) return Math.max(from, begin + span[0]);
    from = begin + DAY;
  }
}

interface Lot {
  readonly job: number;
  readonly first: number;
  readonly units: number;
  done: number;
}

interface Task {
  readonly lot: Lot;
  readonly what: 'units' | 'load' | 'unload';
  left: number;
  /** Done since they were last tapped. */
  untold: number;
}

class Workshop {
  private readonly maker: Maker;
  private readonly random: Random;
  private readonly log: LogEntry[] = [];
  private readonly begun: number[];
  private readonly passed: number[];
  private readonly tasks: (Task | null)[];
  private readonly clocks: (string | null)[];
  /** What is over of their last minute, as minutes less than none. */
  private readonly over: number[];
  private drying: { readonly at: number; readonly job: number; readonly units: number }[] = [];
  private machine: { readonly lot: Lot; readonly until: number } | null = null;
  private attended = false;
  /** Loading or unloading that somebody had to leave: whoever comes next goes on with it. */
  private halfDone: Task | null = null;

  constructor(maker: Maker, random: Random) {
    this.maker = maker;
    this.random = random;
    this.begun = maker.jobs.map(() => 0);
    this.passed = maker.jobs.map(() => 0);
    this.tasks = maker.build.people!.map(() => null);
    this.clocks = this.tasks.map(() => null);
    this.over = this.tasks.map(() => 0);
  }

  run(): Story {
    const { jobs, lostADay } = this.maker;
    const all = jobs.reduce((sum, job) => sum + job.units * estimatedMinutes(job), 0);
    let halfAt = 0;
    for (let day = 0; day < DAYS_AT_MOST; day++) {
      const begin = BEGIN + day * DAY;
      if (this.random.unit() < lostADay) this.tap({ kind: 'lost', at: begin, until: begin + DAY });
      else {
        for (let minute = begin; minute < begin + DAY; minute++) {
          this.minute(minute);
          if (this.isDone()) return { log: this.log, halfAt, readyAt: minute + 1 };
        }
      }
      const done = jobs.reduce((sum, job, j) => sum + this.passed[j]! * estimatedMinutes(job), 0);
      if (halfAt === 0 && done >= all / 2) halfAt = begin + DAY + MORNING;
    }
    throw new Error('this maker never finished');
  }

  private isDone(): boolean {
    return this.passed.every((units, job) => units >= this.maker.jobs[job]!.units);
  }

  private minute(now: number): void {
    this.drying = this.drying.filter((lot) => {
      if (lot.at > now) return true;
      this.pass(lot.job, lot.units, now);
      return false;
    });
    this.tasks.forEach((_, person) => {
      if (!isThere(this.maker, person, now)) return;
      this.work(person, now);
      if (!isThere(this.maker, person, now + 1)) this.stop(person, now + 1);
    });
  }

  private work(person: number, now: number): void {
    const task = this.tasks[person] ?? this.machineTask(person, now) ?? this.nextLot(person, now);
    this.tasks[person] = task;
    if (task === null) return;
    task.left += this.over[person]!;
    this.over[person] = 0;
    const job = this.maker.jobs[task.lot.job]!;
    if (task.what === 'units') this.clock(person, job.id, now);
    task.left -= 1;
    while (task.left <= 0 && this.tasks[person] === task) {
      if (task.what === 'units') this.unitDone(person, task, job, now + 1);
      else this.machineDone(person, task, job, now + 1);
    }
    // Whatever is over of the minute goes into the next work: whole minutes are the simulation's, not the maker's.
    if (this.tasks[person] !== task) this.over[person] = task.left;
  }

  private unitDone(person: number, task: Task, job: Job, now: number): void {
    task.lot.done++;
    task.untold++;
    if (task.lot.done < task.lot.units) {
      task.left += this.unitMinutes(job, task.lot.first + task.lot.done);
      return;
    }
    this.tell(person, now);
    this.clock(person, null, now);
    this.tasks[person] = null;
  }

  private machineDone(person: number, task: Task, job: Job, now: number): void {
    this.tasks[person] = null;
    this.attended = false;
    const { units, job: index } = task.lot;
    if (task.what === 'load') {
      this.machine = { lot: task.lot, until: now + Math.round(job.runMinutes * job.runTruth) };
      this.tap({ kind: 'loaded', step: job.id, n: units, machine: 'printer', at: now });
    } else {
      this.machine = null;
      this.pass(index, units, now);
    }
  }

  /** What the machine wants somebody for. */
  private attention(now: number): 'load' | 'unload' | null {
    if (this.attended) return null;
    if (this.machine !== null) return this.machine.until <= now ? 'unload' : null;
    return this.maker.jobs.some((job, j) => job.kind === 'print' && this.ready(job, j)) ? 'load' : null;
  }

  private machineTask(person: number, now: number): Task | null {
    const begun = this.halfDone;
    this.halfDone = null;
    if (begun !== null) return begun;
    const what = this.attention(now);
    if (what === null) return null;
    const { jobs } = this.maker;
    const print = this.machine?.lot.job ?? jobs.findIndex((job, j) => job.kind === 'print' && this.ready(job, j));
    const { lotMinutes, truth } = jobs[print]!;
    const minutes = lotMinutes * (what === 'load' ? 2 / 3 : 1 / 3);
    if (minutes > this.minutesToFinish(person, now)) return null;
    this.attended = true;
    const lot = this.machine?.lot ?? this.begin(print);
    return { lot, what, left: minutes * truth * this.scatter(), untold: 0 };
  }

  /** Whatever lot is ready and has the most work behind it. */
  private nextLot(person: number, now: number): Task | null {
    const fits = this.minutesToFinish(person, now);
    const [best] = this.maker.jobs
      .flatMap((job, j) =>
        job.kind !== 'print' && this.ready(job, j) && job.lotSize * job.unitMinutes <= fits ? [j] : [],
      )
      .sort((a, b) => this.behind(b) - this.behind(a) || a - b);
    if (best === undefined) return null;
    const lot = this.begin(best);
    return { lot, what: 'units', left: this.unitMinutes(this.maker.jobs[best]!, lot.first), untold: 0 };
  }

  /** What somebody cannot finish before they go is left to whoever comes before they are back. */
  private minutesToFinish(person: number, now: number): number {
    const goes = goesAt(this.maker, person, now);
    const others = [...this.tasks.keys()].filter((other) => other !== person);
    const back = comesAt(this.maker, person, goes);
    return others.some((other) => comesAt(this.maker, other, goes) < back) ? goes - now : Number.POSITIVE_INFINITY;
  }

  private ready(job: Job, index: number): boolean {
    const begun = this.begun[index]!;
    const units = Math.min(job.lotSize, job.units - begun);
    return units > 0 && job.after.every(({ job: from, ratio }) => this.passed[from]! >= ratio * (begun + units));
  }

  private begin(job: number): Lot {
    const { lotSize, units } = this.maker.jobs[job]!;
    const first = this.begun[job]!;
    const taken = Math.min(lotSize, units - first);
    this.begun[job] = first + taken;
    return { job, first: first + 1, units: taken, done: 0 };
  }

  private behind(job: number): number {
    const { jobs } = this.maker;
    const own = (jobs[job]!.units - this.begun[job]!) * estimatedMinutes(jobs[job]!);
    return own + Math.max(0, ...jobs.flatMap((to, j) => (to.after.some((it) => it.job === job) ? this.behind(j) : [])));
  }

  private unitMinutes({ firstUnitMinutes, learning }: Job, unit: number): number {
    return firstUnitMinutes * unit ** Math.log2(learning) * this.scatter();
  }

  private scatter(): number {
    const { random } = this;
    const normal = Math.sqrt(-2 * Math.log(1 - random.unit())) * Math.cos(2 * Math.PI * random.unit());
    return Math.exp(UNIT_SIGMA * normal - UNIT_SIGMA ** 2 / 2);
  }

  /** Whoever goes counts what is done and stops the clock. */
  private stop(person: number, now: number): void {
    this.tell(person, now);
    this.clock(person, null, now);
    const task = this.tasks[person]!;
    if (task === null || task.what === 'units') return;
    this.halfDone = task;
    this.tasks[person] = null;
  }

  private tell(person: number, now: number): void {
    const task = this.tasks[person];
    if (task == null || task.untold === 0) return;
    const { waitMinutes } = this.maker.jobs[task.lot.job]!;
    if (waitMinutes > 0) this.drying.push({ at: now + waitMinutes, job: task.lot.job, units: task.untold });
    else this.pass(task.lot.job, task.untold, now, `p${person + 1}`);
    task.untold = 0;
  }

  private clock(person: number, step: string | null, now: number): void {
    const before = this.clocks[person]!;
    if (before === step) return;
    const who = `p${person + 1}`;
    if (before !== null) this.tap({ kind: 'paused', step: before, person: who, at: now });
    if (step !== null) this.tap({ kind: 'began', step, person: who, at: now });
    this.clocks[person] = step;
  }

  private pass(job: number, units: number, now: number, who?: string): void {
    this.passed[job] = this.passed[job]! + units;
    this.tap({
      kind: 'done',
      step: this.maker.jobs[job]!.id,
      n: units,
      at: now,
      ...(who === undefined ? {} : { who }),
    });
  }

  private tap({ at, until, ...entry }: Omit<LogEntry, 'id' | 'at' | 'until'> & { at: number; until?: number }): void {
    const seq = this.log.length + 1;
    const iso = (minute: number): string => new Date(minute * 60_000).toISOString();
    this.log.push({
      id: `entry-${String(seq).padStart(6, '0')}`,
      seq,
      at: iso(at),
      ...entry,
      ...(until === undefined ? {} : { until: iso(until) }),
    });
  }
}
