/** Numbers of nodes, struts and faces of shapes with repeated parts. */
import type { FormulaSource } from '../../../model/index.ts';
import { floorCount } from '../../numbers/index.ts';
import { count, type FabricationFormula, formulaRow, positive } from './catalogue.ts';

/**
 * Nodes of a full geodesic sphere of class I on the icosahedron at a frequency: 10 f^2 + 2, where 12 join five struts,
 * the others six.
 */
function geodesicNodes(frequency: number): number {
  return 10 * frequency ** 2 + 2;
}

/** Struts of the same sphere: 30 f^2. */
function geodesicStruts(frequency: number): number {
  return 30 * frequency ** 2;
}

/** Triangles of the same sphere: 20 f^2. */
function geodesicFaces(frequency: number): number {
  return 20 * frequency ** 2;
}

/**
 * The strut lengths of that sphere at radius 1, each with how often it occurs, shortest first: the icosahedron's faces
 * are divided evenly and the points pushed out to the sphere. Lengths that agree to 1e-9 are one kind. Example:
 * frequency 2 gives 0.54653 x 60 and 0.61803 x 60.
 */
function geodesicChords(frequency: number): { chordFactor: number; count: number }[] {
  const perFace = chordsOfFace(frequency);
  const kinds: { chordFactor: number; count: number }[] = [];
  for (const { length, onEdge } of perFace.toSorted((a, b) => a.length - b.length)) {
    // Twenty faces; a strut on an edge belongs to two of them.
    const times = onEdge ? 10 : 20;
    const last = kinds.at(-1);
    if (last && length - last.chordFactor < 1e-9) last.count += times;
    else kinds.push({ chordFactor: length, count: times });
  }
  return kinds;
}

/** How many different lengths the struts of that sphere have. */
function geodesicLengths(frequency: number): number {
  return geodesicChords(frequency).length;
}

/** The length of a strut at radius 1, kinds counted from the shortest as 1; not a number beyond the longest. */
function geodesicChord(frequency: number, kind: number): number {
  return geodesicChords(frequency)[kind - 1]?.chordFactor ?? Number.NaN;
}

/** How many struts of a full sphere have that length. */
function geodesicChordStruts(frequency: number, kind: number): number {
  return geodesicChords(frequency)[kind - 1]?.count ?? Number.NaN;
}

/** Sticks of a rectangular grid of cells: every cell's sides, shared ones once. */
function gridSticks(columns: number, rows: number): number {
  return columns * (rows + 1) + rows * (columns + 1);
}

/** Nodes of a rectangular grid of cells. */
function gridNodes(columns: number, rows: number): number {
  return (columns + 1) * (rows + 1);
}

/** Posts of a straight run of bays; a closed ring has as many posts as bays. */
function postsOfRun(bays: number): number {
  return bays + 1;
}

/** Parts on a ring so that their pitch along the arc is not below `leastPitchMm`. */
function ringParts(radiusMm: number, leastPitchMm: number): number {
  return floorCount((2 * Math.PI * radiusMm) / leastPitchMm);
}

/** Pitch along the arc of n parts on a ring. */
function ringPitch(radiusMm: number, parts: number): number {
  return (2 * Math.PI * radiusMm) / parts;
}

type Point = readonly [number, number, number];

/** One face of the icosahedron; the others are alike. */
function chordsOfFace(frequency: number): { length: number; onEdge: boolean }[] {
  const golden = (1 + Math.sqrt(5)) / 2;
  const corners: readonly [Point, Point, Point] = [
    [0, 1, golden],
    [0, -1, golden],
    [golden, 0, 1],
  ];
  const point = (i: number, j: number): Point => {
    const weights = [frequency - i - j, i, j] as const;
    const [x, y, z] = [0, 1, 2].map((axis) => weights.reduce((sum, w, k) => sum + w * corners[k]![axis]!, 0));
    const size = Math.hypot(x!, y!, z!);
    return [x! / size, y! / size, z! / size];
  };
  const chords: { length: number; onEdge: boolean }[] = [];
  const add = (a: Point, b: Point, onEdge: boolean) =>
    chords.push({ length: Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]), onEdge });
  for (let i = 0; i < frequency; i++) {
    for (let j = 0; i + j < frequency; j++) {
      add(point(i, j), point(i + 1, j), j === 0);
      add(point(i, j), point(i, j + 1), i === 0);
      add(point(i + 1, j), point(i, j + 1), i + j + 1 === frequency);
    }
  }
  return chords;
}

const frequency = { ...count('frequency', 1), most: 100 };

const countRow = <const Ranges extends Parameters<typeof formulaRow>[2]>(
  name: string,
  gives: string,
  source: FormulaSource,
  example: { arguments: readonly number[]; gives: number },
  ranges: Ranges,
  compute: (...values: { [Place in keyof Ranges]: number }) => number,
): FabricationFormula => formulaRow('shapes', { name, gives, class: 'physics', source, example }, ranges, compute);

export const SHAPES: readonly FabricationFormula[] = [
  countRow('geodesic_nodes', 'nodes', 'icosahedron', { arguments: [3], gives: 92 }, [frequency], geodesicNodes),
  countRow('geodesic_struts', 'struts', 'icosahedron', { arguments: [3], gives: 270 }, [frequency], geodesicStruts),
  countRow('geodesic_faces', 'triangles', 'icosahedron', { arguments: [3], gives: 180 }, [frequency], geodesicFaces),
  countRow('geodesic_lengths', 'lengths', 'icosahedron', { arguments: [3], gives: 3 }, [frequency], geodesicLengths),
  countRow(
    'geodesic_chord',
    '',
    'icosahedron',
    { arguments: [2, 1], gives: 0.54653 },
    [frequency, count('kind', 1)],
    geodesicChord,
  ),
  countRow(
    'geodesic_chord_struts',
    'struts',
    'icosahedron',
    { arguments: [2, 1], gives: 60 },
    [frequency, count('kind', 1)],
    geodesicChordStruts,
  ),
  countRow(
    'grid_sticks',
    'sticks',
    'counting',
    { arguments: [8, 5], gives: 93 },
    [count('columns'), count('rows')],
    gridSticks,
  ),
  countRow(
    'grid_nodes',
    'nodes',
    'counting',
    { arguments: [8, 5], gives: 54 },
    [count('columns'), count('rows')],
    gridNodes,
  ),
  countRow('posts', 'posts', 'counting', { arguments: [12], gives: 13 }, [count('bays', 1)], postsOfRun),
  countRow(
    'ring_parts',
    'parts',
    'geometry',
    { arguments: [600, 55], gives: 68 },
    [positive('radius', 'mm'), positive('least_pitch', 'mm')],
    ringParts,
  ),
  countRow(
    'ring_pitch',
    'mm',
    'geometry',
    { arguments: [600, 68], gives: 55.4399 },
    [positive('radius', 'mm'), count('parts', 1)],
    ringPitch,
  ),
];
