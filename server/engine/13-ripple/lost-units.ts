/** Units that are scrapped after a change: where they are sent back, and what went into them. */
import type { Build, Part, RippleAnswer, RippleEntry } from '../../model/index.ts';
import { chosenOf, quantitiesOf } from '../01-quantities/index.ts';
import type { Tally } from '../log/index.ts';
import { ceilCount } from '../numbers/index.ts';
import { passedAlong, routeOf, takersOf } from './made.ts';
import type { Asked } from './settle-types.ts';

/** Entries that send units back, and the stock that is left of the parts that lose some. */
interface Lost {
  readonly entries: readonly RippleEntry[];
  readonly onHand: ReadonlyMap<string, number>;
}

/**
 * Scrapped units are made again from the start: as many are sent back at each step that they have passed. What went
 * into them at these steps is lost with them and sent back too, through the whole parts list, but for what is there
 * beyond what is wanted, and for parts that are asked about themselves. It is sent back and not scrapped: it teaches
 * nothing of how many come out good.
 */
export function lostBySending({ build, made, answers }: Asked, tally: Tally): Lost {
  const sending = new Sending(build, tally, new Set(made.map(({ part }) => part)));
  for (const answer of answers) if (answer.scrap > 0) sending.scrap(answer);
  return sending.lost();
}

class Sending {
  private readonly back = new Map<string, number>();
  private readonly onHand = new Map<string, number>();
  private readonly build: Build;
  private readonly tally: Tally;
  private readonly asked: ReadonlySet<string>;

  constructor(build: Build, tally: Tally, asked: ReadonlySet<string>) {
    this.build = build;
    this.tally = tally;
    this.asked = asked;
  }

  scrap({ part: id, at, step, scrap }: RippleAnswer): void {
    const part = this.build.parts!.find((one) => one.id === id)!;
    if (at === 'on-hand') this.writeOff(part, scrap);
    if (at === 'on-hand' || at === 'on-its-way') return;
    const route = routeOf(part, this.build);
    const last = at === 'mounted' ? route.length - 1 : route.indexOf(step ?? '');
    const there = Math.min(scrap, passedAlong(route, this.tally)[last] ?? 0);
    if (scrap > there) this.writeOff(part, scrap - there);
    this.sendBack(part, last, there, new Set([id]));
  }

  /** The entries in the order of the build, and the stock that is left. */
  lost(): Lost {
    const entries = [...this.back].flatMap(([step, n]): RippleEntry[] =>
      n > 0 ? [{ kind: 'sent-back', step, n }] : [],
    );
    return { entries, onHand: this.onHand };
  }

  private writeOff(part: Part, units: number): void {
    const stock = this.onHand.get(part.id) ?? part.onHand ?? 0;
    this.onHand.set(part.id, Math.max(0, stock - units));
  }

  /** Units that have passed the route up to its step `last`, sent back there and at all steps before. */
  private sendBack(part: Part, last: number, units: number, above: ReadonlySet<string>): void {
    const route = routeOf(part, this.build);
    const passed = passedAlong(route, this.tally);
    for (const [i, step] of route.entries()) {
      const before = this.back.get(step) ?? 0;
      const sent = i <= last ? units : this.overtaken(route, passed, i);
      this.back.set(step, Math.min(passed[i]!, before + sent));
    }
    for (const child of this.build.parts ?? []) {
      if (above.has(child.id) || this.asked.has(child.id)) continue;
      const takers = takersOf(child, this.build).filter(({ step }) => route.slice(0, last + 1).includes(step));
      const each = takers.reduce((sum, { perUnit }) => sum + perUnit, 0);
      if (each > 0) this.sendBackChild(child, ceilCount(units * each), new Set([...above, child.id]));
    }
  }

  /** No more units may have passed a step than the one before it, where that was so. */
  private overtaken(route: readonly string[], passed: readonly number[], i: number): number {
    const before = i === 0 ? Number.POSITIVE_INFINITY : passed[i - 1]!;
    if (passed[i]! > before || i === 0) return 0;
    const leftBefore = before - (this.back.get(route[i - 1]!) ?? 0);
    return Math.max(0, passed[i]! - (this.back.get(route[i]!) ?? 0) - leftBefore);
  }

  private sendBackChild(child: Part, lost: number, above: ReadonlySet<string>): void {
    const route = routeOf(child, this.build);
    const there = passedAlong(route, this.tally).at(-1) ?? 0;
    const { build } = chosenOf(this.build);
    const wanted = quantitiesOf(build).parts.get(child.id)?.wanted ?? there;
    const missing = Math.min(there, Math.max(0, lost - Math.max(0, there - wanted)));
    if (missing > 0) this.sendBack(child, route.length - 1, missing, above);
  }
}
