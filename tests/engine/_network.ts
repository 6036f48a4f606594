/** Builds `Work` for tests: textbook networks from a few letters, and lots with phases. */
import { networkOf } from '../../server/engine/05-network/network.ts';
import { alwaysOpen } from '../../server/engine/calendar/working-time.ts';
import type { Link, LinkType, Lot, Phase, Resource, Work } from '../../server/engine/types.ts';

export const ALWAYS = alwaysOpen(-1_000_000, 50_000_000);

const TYPES: Record<string, LinkType> = {
  FS: 'finish-start',
  SS: 'start-start',
  FF: 'finish-finish',
  SF: 'start-finish',
};

export interface Textbook {
  readonly work: Work;
  readonly names: readonly string[];
  readonly index: (name: string) => number;
}

/**
 * `'A2 B4 C10'` and `'A>B A>C:SS3 B>C:FF-2'`: durations, then links, which are finish-start without lag unless said.
 */
export function textbook(durations: string, links: string, scale = 1): Textbook {
  const acts = durations.split(/\s+/).map((text) => {
    const match = /^([A-Z]+)([\d.]+)$/.exec(text);
    if (!match) throw new Error(`not an activity: ${text}`);
    return { name: match[1]!, minutes: Math.round(Number(match[2]) * scale) };
  });
  const names = acts.map((act) => act.name);
  const index = (name: string) => {
    if (!names.includes(name)) throw new Error(`no activity ${name}`);
    return names.indexOf(name);
  };
  const parsed = links
    .split(/\s+/)
    .filter((text) => text !== '')
    .map((text) => {
      const match = /^([A-Z]+)>([A-Z]+)(?::(FS|SS|FF|SF)(-?\d+)?)?$/.exec(text);
      if (!match) throw new Error(`not a link: ${text}`);
      const [from, to] = [index(match[1]!), index(match[2]!)];
      return link(from, to, TYPES[match[3] ?? 'FS'], Number(match[4] ?? 0) * scale);
    });
  const lots = acts.map(({ name, minutes }) => lot(name, [{ kind: 'wait', minutes }]));
  return { work: work({ lots, links: parsed }), names, index };
}

export function link(from: number, to: number, type: LinkType = 'finish-start', lagMinutes = 0): Link {
  return { from, to, type, lagMinutes, lagOpen: null, reason: 'feed' };
}

export function lot(id: string, phases: readonly Phase[], more: Partial<Lot> = {}): Lot {
  return {
    id,
    step: 0,
    set: null,
    number: 1,
    firstUnit: 1,
    lastUnit: 1,
    phases,
    release: -1_000_000,
    deadline: 1_000_000,
    begunAt: null,
    pinnedStart: null,
    pinnedPeople: null,
    station: null,
    onSite: false,
    ...more,
  };
}

export function work(more: Partial<Work>): Work {
  return { now: 0, readyBy: 1_000_000, loadIn: null, event: 1_000_000, resources: [], lots: [], links: [], ...more };
}

export function person(id: string, open: Resource['open']): Resource {
  return { id, name: id, kind: 'person', capacity: 1, open };
}

export function networkFor({ lots, links }: Work) {
  return networkOf(lots.length, links);
}
