/** The crews that may do a phase. */

/** Crews of several people listed for one phase at most. */
const MOST_CREWS = 64;
/**
 * Where more could be formed, this many are: of neighbours in the order of the eligible, of every second, and so on.
 */
const SPREAD_CREWS = 24;
/** Crews that are asked about at once because they keep the same hours, at most (see `placeSingly`). */
export const MOST_ALIKE = 32;
/** Hours that differ among those of whom a crew is chosen as it is needed, at most. */
const MOST_HOURS = 6;

/**
 * Every choice of `people` out of `eligible`, in the order of the list. People pinned to a lot who may do it are always
 * in it: as many of them as are needed, and others of the eligible only where they are too few. Fewer eligible than
 * needed: none. Where there are too many choices, a few, many of them with nobody in common: see `isCut`.
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

/**
 * The crews of a compiled work, each set of them once, with the calendar in which all of a crew (and its machine) are
 * there.
 */
export class CrewSets {
  readonly memberFirst: number[] = [0];
  readonly members: number[] = [];
  private readonly crewCalendar: number[] = [];
  private readonly ranges = new Map<string, readonly [number, number]>();
  private readonly freeCrews = new Map<number, FreeCrew>();

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

  /**
   * The number of a crew of `people` of the eligible whose members are chosen as it is needed; -1 where their hours
   * differ too much. `hoursOf`: a number for the hours of a person, the same for the same hours.
   */
  free(
    eligible: readonly number[],
    people: number,
    machine: number | null,
    hoursOf: (person: number) => number,
  ): number {
    const hours = [...new Set(eligible.map(hoursOf))];
    if (hours.length > MOST_HOURS) return -1;
    const classOf = Int32Array.from(eligible, (person) => hours.indexOf(hoursOf(person)));
    const calendarOf = Int32Array.from({ length: 1 << hours.length }, (_, mask) => {
      const one = hours.flatMap((_, k) => ((mask >> k) & 1 ? [eligible[classOf.indexOf(k)]!] : []));
      return mask === 0 ? -1 : this.shared(machine === null ? one : [...one, machine]);
    });
    const crew = this.crewCalendar.length;
    const first = eligible.slice(0, people);
    this.crewCalendar.push(this.shared(machine === null ? first : [...first, machine]));
    this.members.push(...first);
    this.memberFirst.push(this.members.length);
    this.freeCrews.set(crew, { eligible, classOf, calendarOf, freeAt: new Int32Array(eligible.length) });
    return crew;
  }

  /** The people of the crews from `first` to `end` (left out), one bit each; two people may have the same. */
  peopleOf(first: number, end: number): number {
    let people = 0;
    for (let crew = first; crew < end; crew++) {
      const chosen = this.freeCrews.get(crew)?.eligible;
      for (const person of chosen ?? this.members.slice(this.memberFirst[crew]!, this.memberFirst[crew + 1]!))
        people |= 1 << (person & 31);
    }
    return people;
  }

  /** The calendar of all crews from `first` to `end` (left out); -1 where theirs differ, or they are too many. */
  sharedCalendar(first: number, end: number): number {
    const calendars = new Set(this.crewCalendar.slice(first, end));
    return calendars.size === 1 && end - first <= MOST_ALIKE ? this.crewCalendar[first]! : -1;
  }

  /** As the generator reads them. */
  compiled() {
    const { crewCalendar, memberFirst, members, freeCrews } = this;
    return {
      freeCrews,
      crewCalendar: Int32Array.from(crewCalendar),
      memberFirst: Int32Array.from(memberFirst),
      members: Int32Array.from(members),
      crewPerson: Int32Array.from(crewCalendar, (_, crew) => members[memberFirst[crew]!]!),
      crewPeople: Int32Array.from(crewCalendar, (_, crew) => this.peopleOf(crew, crew + 1)),
    };
  }
}

/** Whether `crewsOf` leaves out some of the crews that could be formed. */
export function isCut(eligible: readonly number[], people: number, pinnedPeople: readonly number[] | null): boolean {
  const pinned = (pinnedPeople ?? []).filter((person) => eligible.includes(person)).length;
  if (pinned >= people) return isTooMany(pinned, people);
  return isTooMany(eligible.length - pinned, people - pinned);
}

/** A crew whose members are chosen among `eligible` as its phase is placed; for `FreeCrew` see `CrewSets.free`. */
export interface FreeCrew {
  readonly eligible: readonly number[];
  /** By place among the eligible: the number of their hours. */
  readonly classOf: Int32Array;
  /** By the hours of its members, one bit each: the calendar in which all of them (and the machine) are there. */
  readonly calendarOf: Int32Array;
  /** Scratch. */
  readonly freeAt: Int32Array;
}

function isTooMany(from: number, count: number): boolean {
  if (count <= 1 || count >= from) return false;
  let choices = 1;
  for (let i = 1; i <= count; i++) {
    choices = (choices * (from - count + i)) / i;
    if (choices > MOST_CREWS) return true;
  }
  return false;
}

function choose(from: readonly number[], count: number): number[][] {
  if (count === 0) return [[]];
  if (isTooMany(from.length, count)) return spread(from, count);
  const crews: number[][] = [];
  for (let i = 0; i + count <= from.length; i++) {
    for (const rest of choose(from.slice(i + 1), count - 1)) crews.push([from[i]!, ...rest]);
  }
  return crews;
}

/** Crews of people who stand `stride` apart in a ring, one behind the other, for one stride after another. */
function spread(from: readonly number[], count: number): number[][] {
  const crews = new Map<string, number[]>();
  for (let stride = 1; stride < from.length; stride++) {
    for (let turn = 0; turn < from.length && crews.size < SPREAD_CREWS; turn++) {
      const begin = turn * count * stride + Math.floor((turn * count) / from.length);
      const places = Array.from({ length: count }, (_, i) => (begin + i * stride) % from.length);
      const crew = [...new Set(places)].sort((a, b) => a - b).map((place) => from[place]!);
      if (crew.length === count) crews.set(crew.join(), crew);
    }
  }
  return [...crews.values()];
}
