import { describe, expect, it } from 'vitest';
import { generateSerial } from '../../../server/engine/07-levelling/generate/generate.ts';
import { dependencyOrderOf } from '../../../server/engine/07-levelling/generate/orders.ts';
import { compile } from '../../../server/engine/07-levelling/index.ts';
import { OTHER } from '../../../server/engine/07-levelling/instance/codes.ts';
import type { Instance } from '../../../server/engine/07-levelling/instance/instance.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import { type RandomWorkOptions, randomWork } from '../../support/random-work.ts';

/** Who does what when, in the last pass. */
const placed = ({ phaseStarts, phaseFinishes, phaseCrew, starts, finishes }: Instance) =>
  [phaseStarts, phaseFinishes, phaseCrew, starts, finishes].map((column) => [...column]);

/** Other minutes for all work, as futures draw them, and none for one in ten. */
function draw(instance: Instance, random: Random): void {
  const { phaseMinutes, phaseStarts } = instance;
  for (let p = 0; p < phaseStarts.length; p++) {
    const share = random.below(10) === 0 ? 0 : 0.5 + random.unit();
    phaseMinutes[p] = Math.round(phaseMinutes[p]! * share);
  }
}

const BUILDS: readonly Omit<RandomWorkOptions, 'seed' | 'lots'>[] = [
  { simple: true, handsOnly: true },
  {},
  { begun: true },
  { wide: true },
  { simple: true, handsOnly: true, alike: true },
  { alike: true },
  { begun: true, alike: true },
];

describe('the patterns of parts', () => {
  for (const direction of ['forward', 'mirrored'] as const) {
    it(`place each lot where the rule for all shapes does, whatever minutes are drawn, ${direction}`, () => {
      let patterned = 0;
      let alike = 0;
      for (let seed = 1; seed <= 60; seed++) {
        const instance = compile(randomWork({ seed, lots: 5 + seed, ...BUILDS[seed % BUILDS.length] }))[direction];
        instance.passesOver = direction === 'forward' && seed % 3 === 0;
        const order = dependencyOrderOf(instance);
        draw(instance, new Random(seed));
        generateSerial(instance, order);
        const quick = placed(instance);
        patterned += instance.partPattern.filter((pattern) => pattern !== OTHER).length;
        const { phaseHours, crewRange } = instance;
        alike += phaseHours.filter((hours, p) => hours >= 0 && crewRange[2 * p + 1]! - crewRange[2 * p]! > 1).length;
        instance.partPattern.fill(OTHER);
        instance.phaseSingly.fill(0);
        generateSerial(instance, order);
        expect(quick, `seed ${seed}`).toEqual(placed(instance));
      }
      expect(patterned).toBeGreaterThan(100);
      expect(alike).toBeGreaterThan(100);
    });
  }
});
