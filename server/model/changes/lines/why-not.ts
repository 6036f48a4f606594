/** Why a clause says nothing that can be read, where its words tell. */
import type { WhyNot } from './facts.ts';

const WHYS: readonly (readonly [WhyNot, RegExp])[] = [
  ['clock-time', /\b\d{1,2}:\d{2}\b/],
  [
    'dates',
    /\b(?:(?:mon|tues|wednes|thurs|fri|satur|sun)days?|tomorrow|tonight|(?:next|this) (?:week|month|weekend)|by the \d{1,2}(?:st|nd|rd|th))\b/i,
  ],
  ['after-a-time', /\bafter (?:about )?\d/i],
  ['bound', /\b(?:max(?:imum)?|minimum|up to|at most|at least|less than|more than|under|over)\s+\d|\d\+/i],
  ['spares-within', /\bincl(?:\.|uding|udes)?(?:\s|$)/i],
  [
    'days-of-hands',
    /(?:\d|\b(?:an?|all|half|two|three))\s*(?:an? )?(?:days?|evenings?|mornings?|afternoons?|weekends?)\b/i,
  ],
  [
    'part-in-part',
    /^\d+ (?:per|an?|in each|to each) \p{L}+$|^\d+ (?:\p{L}+ )+each$|\b(?:with|x|of) \d+ (?:\p{L}+ )+each$|^each with \d/iu,
  ],
  ['who', /\d.* (?:with|by) \p{L}+$/u],
  ['no-number', /^[^\d]*\p{L}[^\d]*$/u],
];

/** The first reason that fits; null where none does. */
export function whyNot(clause: string): WhyNot | null {
  return WHYS.find(([, pattern]) => pattern.test(clause))?.[0] ?? null;
}
