import { describe, expect, it } from 'vitest';
import { criticalPath } from '../../../server/engine/06-critical-path/critical-path.ts';
import { networkFor, type Textbook, textbook } from '../_network.ts';

/** One line an activity: early start, early finish, late start, late finish, total float, free float. */
function table({ work, names }: Textbook, scale = 1): Record<string, number[]> {
  const path = criticalPath(work, networkFor(work), 'finish');
  return Object.fromEntries(
    names.map((name, i) => [
      name,
      [
        path.earlyStart,
        path.earlyFinish,
        path.lateStart,
        path.lateFinish,
        path.totalSlack.clock,
        path.freeSlack.clock,
      ].map((dates) => dates[i]! / scale),
    ]),
  );
}

function rows(text: string): Record<string, number[]> {
  const lines = text.trim().split('\n');
  return Object.fromEntries(
    lines.map((line) => {
      const [name, ...values] = line.trim().split(/\s+/);
      return [name, values.map(Number)];
    }),
  );
}

/** The end, the traced path and the activities said to be critical. */
function chain({ work, names }: Textbook) {
  const path = criticalPath(work, networkFor(work), 'finish');
  return {
    end: path.finishAt,
    path: path.path.map(({ lot }) => names[lot]).join('-'),
    critical: names.filter((_, i) => path.critical[i] === 1).join('-'),
  };
}

describe('finish-start networks of the textbooks', () => {
  // F. S. Hillier, G. J. Lieberman, Introduction to Operations Research, chapter on PERT/CPM: fourteen activities.
  it('finds 44 weeks for fourteen activities (Hillier and Lieberman)', () => {
    const reliable = textbook(
      'A2 B4 C10 D6 E4 F5 G7 H9 I7 J8 K4 L5 M2 N6',
      'A>B B>C C>D C>E E>F D>G E>H G>H C>I F>J I>J J>K J>L H>M K>N L>N',
    );
    expect(table(reliable)).toEqual(
      rows(`
        A 0 2 0 2 0 0
        B 2 6 2 6 0 0
        C 6 16 6 16 0 0
        D 16 22 20 26 4 0
        E 16 20 16 20 0 0
        F 20 25 20 25 0 0
        G 22 29 26 33 4 0
        H 29 38 33 42 4 0
        I 16 23 18 25 2 2
        J 25 33 25 33 0 0
        K 33 37 34 38 1 1
        L 33 38 33 38 0 0
        M 38 40 42 44 4 4
        N 38 44 38 44 0 0`),
    );
    expect(chain(reliable)).toEqual({ end: 44, path: 'A-B-C-E-F-J-L-N', critical: 'A-B-C-E-F-J-L-N' });
  });

  // J. Heizer, B. Render, Operations Management: eight activities. One public copy gives D the predecessor B alone; the
  // dates are the same.
  it.each(['A>C A>D B>D C>E C>F D>G E>G F>H G>H', 'A>C B>D C>E C>F D>G E>G F>H G>H'])(
    'finds 15 weeks for eight activities with links %s (Heizer and Render)',
    (links) => {
      const milwaukee = textbook('A2 B3 C2 D4 E4 F3 G5 H2', links);
      expect(table(milwaukee)).toEqual(
        rows(`
          A 0 2 0 2 0 0
          B 0 3 1 4 1 0
          C 2 4 2 4 0 0
          D 3 7 4 8 1 1
          E 4 8 4 8 0 0
          F 4 7 10 13 6 6
          G 8 13 8 13 0 0
          H 13 15 13 15 0 0`),
      );
      expect(chain(milwaukee)).toEqual({ end: 15, path: 'A-C-E-G-H', critical: 'A-C-E-G-H' });
    },
  );

  // A critical path analysis tutorial for small businesses: two activities share one week of total float, one of them
  // has free float.
  it('tells free float from total float in an 11 week network', () => {
    const shop = textbook('A1 B3 C2 D3 E3 F2 G2', 'A>B A>C B>D C>E D>F E>F F>G');
    expect(table(shop)).toEqual(
      rows(`
        A 0 1 0 1 0 0
        B 1 4 1 4 0 0
        C 1 3 2 4 1 0
        D 4 7 4 7 0 0
        E 3 6 4 7 1 1
        F 7 9 7 9 0 0
        G 9 11 9 11 0 0`),
    );
    expect(chain(shop)).toEqual({ end: 11, path: 'A-B-D-F-G', critical: 'A-B-D-F-G' });
  });

  // A course note, "design prototype ... final assembly".
  it('finds 16 hours for a prototype build', () => {
    const prototype = textbook('A6 B2 C2 D3 F2 E4 G1', 'A>B A>C B>D C>F D>E F>E E>G');
    expect(table(prototype)).toEqual(
      rows(`
        A 0 6 0 6 0 0
        B 6 8 6 8 0 0
        C 6 8 7 9 1 0
        D 8 11 8 11 0 0
        F 8 10 9 11 1 1
        E 11 15 11 15 0 0
        G 15 16 15 16 0 0`),
    );
    expect(chain(prototype)).toEqual({ end: 16, path: 'A-B-D-E-G', critical: 'A-B-D-E-G' });
  });

  // Training module "Network Construction - Critical Path Method": the five path sums are 35, 41, 30, 39 and 38.
  it('finds 41 over five paths of fourteen activities', () => {
    const module = textbook(
      'A2 B10 C13 D12 E12 F7 G10 H16 I6 J12 K5 L8 M5 N3',
      'A>B A>C A>D B>E B>F D>G D>H F>I C>J G>J I>K E>L K>L H>M J>N L>N M>N',
    );
    expect(table(module)).toEqual(
      rows(`
        A 0 2 0 2 0 0
        B 2 12 2 12 0 0
        C 2 15 13 26 11 9
        D 2 14 4 16 2 0
        E 12 24 18 30 6 6
        F 12 19 12 19 0 0
        G 14 24 16 26 2 0
        H 14 30 17 33 3 0
        I 19 25 19 25 0 0
        J 24 36 26 38 2 2
        K 25 30 25 30 0 0
        L 30 38 30 38 0 0
        M 30 35 33 38 3 3
        N 38 41 38 41 0 0`),
    );
    expect(chain(module)).toEqual({ end: 41, path: 'A-B-F-I-K-L-N', critical: 'A-B-F-I-K-L-N' });
  });

  // Twelve activities (Heizer and Render, Operations Management), with days in tenths: floats must be exactly zero
  // where they are.
  it('finds 260 days for a renovation with days in tenths', () => {
    const durations = 'A30 B60 C65 D55 E30 F0.1 G30 H20 I30 J10 K0.1 L30';
    const renovation = textbook(durations, 'A>B A>C C>D B>E E>F D>G F>G G>H H>I H>J J>K I>L K>L', 10);
    const floats = table(renovation, 10);
    const total = { A: 0, B: 29.9, C: 0, D: 0, E: 29.9, F: 29.9, G: 0, H: 0, I: 0, J: 19.9, K: 19.9, L: 0 };
    const free = { A: 0, B: 0, C: 0, D: 0, E: 0, F: 29.9, G: 0, H: 0, I: 0, J: 0, K: 19.9, L: 0 };
    expect(Object.fromEntries(Object.entries(floats).map(([name, row]) => [name, row[4]]))).toEqual(total);
    expect(Object.fromEntries(Object.entries(floats).map(([name, row]) => [name, row[5]]))).toEqual(free);
    expect(chain(renovation)).toEqual({ end: 2600, path: 'A-C-D-G-H-I-L', critical: 'A-C-D-G-H-I-L' });
  });

  it('gives the other copy of the renovation the same end and its own floats', () => {
    const durations = 'A30 B60 C65 D55 E30 F0.1 G30 H20 I30 J10 K0.1 L30';
    const renovation = textbook(durations, 'A>B A>C C>D B>E E>F D>G E>G G>H H>I H>J J>K I>L K>L', 10);
    const floats = table(renovation, 10);
    expect([floats.B![4], floats.E![4], floats.F![4]]).toEqual([30, 30, 139.9]);
    expect(chain(renovation).end).toBe(2600);
  });
});

describe('precedence links with lags', () => {
  // Training module "Network Construction - Precedence Diagram Method"; dates recomputed by a linear program and by
  // longest paths.
  it('moves the critical path when links become start-start', () => {
    const module = textbook(
      'A2 B10 C13 D12 E12 F7 G10 H16 I6 J12 K5 L8 M5 N3',
      'A>B:SS0 A>C A>D B>E B>F D>G D>H F>I C>J G>J:SS0 I>K:SS0 E>L I>L K>L H>M G>N J>N L>N M>N',
    );
    expect(table(module)).toEqual(
      rows(`
        A 0 2 0 2 0 0
        B 0 10 4 14 4 0
        C 2 15 10 23 8 0
        D 2 14 2 14 0 0
        E 10 22 15 27 5 1
        F 10 17 14 21 4 0
        G 14 24 23 33 9 1
        H 14 30 14 30 0 0
        I 17 23 21 27 4 0
        J 15 27 23 35 8 8
        K 17 22 22 27 5 1
        L 23 31 27 35 4 4
        M 30 35 30 35 0 0
        N 35 38 35 38 0 0`),
    );
    expect(chain(module)).toEqual({ end: 38, path: 'A-D-H-M-N', critical: 'A-D-H-M-N' });
  });

  // Made for these tests; dates by a linear program and by longest paths.
  it('lets a finish-finish link drive where it is the tighter one', () => {
    const mixed = textbook(
      'A10 B8 C6 D12 E4 F5 G3',
      'A>B:SS3 A>B:FF2 A>C:FS2 B>D:SS4 B>D:FF5 C>E D>E:FS-2 C>F:FF4 E>G F>G:FS1',
    );
    expect(table(mixed)).toEqual(
      rows(`
        A 0 10 0 10 0 0
        B 4 12 5 13 1 0
        C 12 18 12 18 0 0
        D 8 20 9 21 1 0
        E 18 22 19 23 1 1
        F 17 22 17 22 0 0
        G 23 26 23 26 0 0`),
    );
    expect(chain(mixed)).toEqual({ end: 26, path: 'A-C-F-G', critical: 'A-C-F-G' });
    const path = criticalPath(mixed.work, networkFor(mixed.work), 'finish');
    const drivenBy = path.path.map((step) => (step.drivenBy < 0 ? 'now' : mixed.work.links[step.drivenBy]!.type));
    expect(drivenBy).toEqual(['now', 'finish-start', 'finish-finish', 'finish-start']);
  });

  it('holds a finish until another start by a start-finish link', () => {
    const handover = textbook('P5 Q4 R6 S2', 'P>Q Q>R:SF9 P>R:SS1 R>S Q>S:FF3');
    const dates = table(handover);
    expect(['P', 'Q', 'R', 'S'].map((name) => dates[name]![0])).toEqual([0, 5, 8, 14]);
    expect(['P', 'Q', 'R', 'S'].map((name) => dates[name]![4])).toEqual([0, 0, 0, 0]);
    expect(chain(handover)).toEqual({ end: 16, path: 'P-Q-R-S', critical: 'P-Q-R-S' });
  });

  it('pulls the painting of one block to the end of the printing', () => {
    const overlap = textbook('A10 B2 C1', 'A>B:SS1 A>B:FF1 B>C');
    expect(Object.values(table(overlap)).map((row) => row[0])).toEqual([0, 9, 11]);
    expect(chain(overlap).end).toBe(12);
  });
});
