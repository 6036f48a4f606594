/** What the maker does not need that Show day proposes, and which open points that answers. */
import type { Build, ShowProposalCode, ShowStop } from '../../model/index.ts';

/** The maker's answers to the proposals of Show day. */
interface Answers {
  /** Whether this is not needed. */
  readonly isNotNeeded: (code: ShowProposalCode, of: string) => boolean;
  /** An open point with what is left of it; null where an answer settles it. */
  readonly leftOf: (stop: ShowStop) => ShowStop | null;
}

/**
 * The answers in a build. They settle what the maker alone decides: whether something is in a box, has a spare or is
 * switched on before; never a signature, a certificate, a gate, a weight or a size.
 */
export function answersIn({ notNeeded = [] }: Build): Answers {
  const said = new Set(notNeeded.map(({ code, of }) => keyOf(code, of)));
  const isNotNeeded: Answers['isNotNeeded'] = (code, of) => said.has(keyOf(code, of));
  return {
    isNotNeeded,
    leftOf: (stop) => {
      switch (stop.code) {
        case 'no-spare':
          return isNotNeeded('one-more', stop.part) ? null : stop;
        case 'no-power-on':
          return isNotNeeded('power-on', stop.where) ? null : stop;
        case 'unpacked': {
          const units = isNotNeeded('units', stop.part) ? 0 : stop.units;
          const spares = isNotNeeded('spares', stop.part) ? 0 : stop.spares;
          return units + spares === 0 ? null : { ...stop, units, spares };
        }
        default:
          return stop;
      }
    },
  };
}

function keyOf(code: ShowProposalCode, of: string): string {
  return JSON.stringify([code, of.trim().toLowerCase()]);
}
