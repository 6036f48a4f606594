/** What a clause says of the part itself: packs, spares, what is there, what comes out good, what one costs. */
import type { Clause } from './clause.ts';
import type { LineDraft } from './draft.ts';
import { readNumber } from './measures.ts';

const PACK = '(?:packs?|box|boxes|reels?|rolls?|bags?|tins?|tubs?|cartons?|spools?|coils?)';
const PACKS = new RegExp(`^(?:(?:come |comes |sold )?in )?(?:an? )?${PACK} of (\\w+)$`);
const UNITS =
  /^(?:(?:have|has|got|we have|there are) )?(\w+) (?:(spares?|to spare|extra)|(?:already )?(?:here|on hand|in stock|made|done|there)(?: already)?)$/;
const HAVE = /^(?:have|got|we have|we've got|i have) (\w+)(?: (?:already|of them|here))?$/;
const ALL_HERE =
  /^(?:all )?(?:here|on hand|in stock|have them|have it|got them|already here|already there)(?: already)?$/;
const LOST = '(?:scrap(?:ped)?|waste|loss|lost|rejects?|breakage|breaks?|broken|go(?:es)? wrong|spoilt|spoiled)';
const SHARE = new RegExp(`^([\\d.,]+)\\s*(?:%|percent) (?:(?:come out |turn out |are |is )?(good)|${LOST}|fails?)$`);
const ONE_IN = new RegExp(`^(?:lose |loses |we lose )?1 (?:in|of|out of) (\\d+)(?: (?:${LOST}|fails?))?$`);
const MORE = /^([\d.,]+)\s*(?:%|percent) (?:spares?|extra|more)$/;
const MONEY = '(?:euros?|pounds?|dollars?|quid|bucks)';
const COST = new RegExp(
  `^(?:costs? )?(?:[€$£]\\s*([\\d.,]+)|([\\d.,]+)\\s*(?:[€$£]|${MONEY}))(?: (each|apiece|a piece)| (?:a|per|for an?|for each) (${PACK}))?$`,
);

/** Takes what a clause says of the part into the draft; false where it says nothing of the kind. */
export function takePartNumbers(draft: LineDraft, { text }: Clause): boolean {
  const said = text.trim().toLowerCase();
  return draft.part !== null && TAKERS.some((take) => take(draft, draft.part!, said));
}

type Taker = (draft: LineDraft, part: NonNullable<LineDraft['part']>, said: string) => boolean;

const packs: Taker = ({ facts }, part, said) => {
  const units = readNumber(PACKS.exec(said)?.[1] ?? '');
  if (units === null) return false;
  part.fields.packSize = units;
  facts.push({ code: 'packs', part: part.name, units });
  return true;
};

const spares: Taker = ({ facts }, part, said) => {
  const [plain, more] = [UNITS.exec(said), MORE.exec(said)];
  const share = readNumber(more?.[1] ?? '');
  const count = countOf(part);
  const units =
    share === null ? readNumber(plain?.[2] === undefined ? '' : plain[1]!) : count && Math.ceil((count * share) / 100);
  if (units === null) return false;
  part.fields.spares = units;
  facts.push({ code: 'spares', part: part.name, units });
  return true;
};

const onHand: Taker = ({ facts }, part, said) => {
  const plain = UNITS.exec(said) ?? HAVE.exec(said);
  const units = ALL_HERE.test(said) ? countOf(part) : readNumber(plain?.[1] ?? '');
  if (units === null || (plain !== null && plain[2] !== undefined)) return false;
  part.fields.onHand = units;
  facts.push({ code: 'on-hand', part: part.name, units });
  return true;
};

const good: Taker = ({ facts }, part, said) => {
  const [share, lost] = [SHARE.exec(said), ONE_IN.exec(said)];
  const n = readNumber(share?.[1] ?? lost?.[1] ?? '');
  if (n === null) return false;
  const of = share === null ? 1 - 1 / n : (share[2] === undefined ? 100 - n : n) / 100;
  part.fields.yield = of;
  facts.push({ code: 'yield', part: part.name, share: of });
  return true;
};

/** A price for a pack is parted among its units, where it was said how many they are. */
const cost: Taker = ({ facts }, part, said) => {
  const price = COST.exec(said);
  const n = readNumber(price?.[1] ?? price?.[2] ?? '');
  const units = price?.[4] === undefined ? 1 : (part.fields.packSize ?? null);
  if (n === null || units === null) return false;
  part.fields.unitCost = n / units;
  facts.push({ code: 'cost', part: part.name, each: n / units });
  return true;
};

const TAKERS: readonly Taker[] = [packs, spares, onHand, good, cost];

function countOf({ fields }: NonNullable<LineDraft['part']>): number | null {
  return typeof fields.count === 'number' ? fields.count : null;
}
