/** The crews that may do a phase. */

/** Crews tried for one phase at most; where more could be formed, the first ones in the order of the eligible are. */
const MOST_CREWS = 64;

/**
 * Every choice of `people` out of `eligible`, in the order of the list. People pinned to a lot who may do it are always in it: as many
 * of them as are needed, and others of the eligible only where they are too few. Fewer eligible than needed: none.
 *
 * @example crewsOf([0, 1, 2], 2, null) is [[0, 1], [0, 2], [1, 2]]; crewsOf([0, 1, 2], 2, [2]) is [[2, 0], [2, 1]]
 */
export function crewsOf(
  eligible: readonly number[],
  people: number,
  pinnedPeople: readonly number[] | null,
): readonly (readonly number[])[] {
  const pinned = (pinnedPeople ?? []).filter((person) => eligible.includes(person));
  if (pinned.length === 0) return choose(eligible, people);
  if (pinned.length >= people) return choose(pinned, people);
  const others = eligible.filter((person) => !pinned.includes(person));
  return choose(others, people - pinned.length).map((crew) => [...pinned, ...crew]);
}

/** Which of the crews `first` to `end` are these people, in whatever order they are named; -1 where none is. */
export function crewAmong(
  people: readonly number[],
  first: number,
  end: number,
  { members, memberFirst }: { readonly members: ArrayLike<number>; readonly memberFirst: ArrayLike<number> },
): number {
  for (let crew = first; crew < end; crew++) {
    const [from, to] = [memberFirst[crew]!, memberFirst[crew + 1]!];
    let found = 0;
    for (let m = from; m < to; m++) if (people.includes(members[m]!)) found++;
    if (found === people.length && found === to - from) return crew;
  }
  return -1;
}

/** The crews of a compiled work, each set of them once, with the calendar in which all of a crew (and its machine) are there. */
export class CrewSets {
  readonly memberFirst: number[] = [0];
  readonly members: number[] = [];
  private readonly crewCalendar: number[] = [];
  private readonly ranges = new Map<string, readonly [number, number]>();

  /** `shared`: the number of the calendar in which all of these resources are there. */
  constructor(private readonly shared: (resources: readonly number[]) => number) {}

  /** The numbers of these crews, from the first to before the second. */
  rangeOf(crews: readonly (readonly number[])[], machine: number | null): readonly [number, number] {
    const key = `${machine}:${crews.map((crew) => crew.join('+')).join(',')}`;
    const known = this.ranges.get(key);
    if (known !== undefined) return known;
    const first = this.crewCalendar.length;
    for (const crew of crews) {
      this.crewCalendar.push(this.shared(machine === null ? crew : [...crew, machine]));
      this.members.push(...crew);
      this.memberFirst.push(this.members.length);
    }
    const range = [first, this.crewCalendar.length] as const;
    this.ranges.set(key, range);
    return range;
  }

  /** As the generator reads them. */
  compiled() {
    const { crewCalendar, memberFirst, members } = this;
    return {
      crewCalendar: Int32Array.from(crewCalendar),
      memberFirst: Int32Array.from(memberFirst),
      members: Int32Array.from(members),
      crewPerson: Int32Array.from(crewCalendar, (_, crew) => members[memberFirst[crew]!]!),
    };
  }
}

function choose(from: readonly number[], count: number): number[][] {
  if (count === 0) return [[]];
  const crews: number[][] = [];
  for (let i = 0; i + count <= from.length && crews.length < MOST_CREWS; i++) {
    for (const rest of choose(from.slice(i + 1), count - 1)) {
      if (crews.length === MOST_CREWS) break;
      crews.push([from[i]!, ...rest]);
    }
  }
  return crews;
}
