/** The words of Show day: open points, pack list, ways to the site, points, run sheet, strike. */

import { worded } from '../../../server/model/texts/language.ts';
import { listOf, some } from '../grammar.ts';

const before = (hasLoadIn: boolean): string => (hasLoadIn ? 'load-in' : 'event');

export const showTexts = worded({
  stops: {
    heading: 'What could stop the show',
    none: 'Nothing is open that the tool knows of.',
    late: (by: string) => `The work on site ends ${by} after the event.`,
    'no-spare': (part: string, need: number) =>
      `${part}: ${need === 1 ? 'one' : need} in the piece, none to spare. Carry one, or know how to do without.`,
    unsigned: (step: string, hazard: string, gate: string | null) =>
      gate === null
        ? `${step} (${hazard}): no gate after it at which a competent person signs.`
        : `${step} (${hazard}): the gate “${gate}” names nobody who signs.`,
    'no-certificate': (step: string | null) =>
      step === null
        ? 'For the public, and no certificate of how its materials burn: ask the venue which one it wants, and say on Contents when it is here. Local codes and the venue decide.'
        : `${step}: decor where the public comes, and no certificate seen yet: none has come from outside, and no gate marked so looks for one.`,
    undecided: (question: string, by: string | null) =>
      by === null ? `Not decided: ${question}` : `Not decided: ${question} Decide before ${by}.`,
    unsettled: (parameter: string, by: string | null) =>
      by === null ? `Not known yet: ${parameter}.` : `Not known yet: ${parameter}. Find out before ${by}.`,
    'gate-open': (gate: string, left: number) =>
      `Gate “${gate}” not passed yet${left > 1 ? `: ${left} checks left` : ''}.`,
    'no-power-on': {
      home: 'No gate is marked as the power-on at home, where it can still be mended.',
      venue: 'No gate is marked as the power-on at the venue.',
    },
    powerOnSoon: (hasLoadIn: boolean) => `Switch it on there on a day before the ${before(hasLoadIn)}.`,
    powerOnNow: (hasLoadIn: boolean) => `No night is left before the ${before(hasLoadIn)}: switch it on there now.`,
    'point-over': (point: string, by: string) => `Point ${point} carries ${by} more than it may.`,
    'point-unsigned': (points: readonly string[]) => `Nobody competent has signed for: ${listOf(points)}.`,
    'no-fit': (box: string, passage: string, side: string, by: string) =>
      `${box} does not fit: ${passage}, ${side} ${by} too long.`,
    overloaded: (passage: string, by: string) => `${passage}: ${by} above its payload.`,
    unpacked: (what: string) => `In no box: ${what}.`,
  },
  pack: {
    heading: 'Pack list',
    order: 'Box 1 is opened first on site, so it goes into the van last. Load from the foot of this list to its head.',
    none: 'No box yet. Add one, and say which parts and tools go into it.',
    place: (n: number) => `Box ${n}`,
    opens: (step: string, when: string | null) => (when === null ? `opened at ${step}` : `opened at ${step}, ${when}`),
    opensNone: 'opened when it is needed',
    part: (units: string, part: string) => `${units}\u00a0×\u00a0${part}`,
    spare: (units: string, part: string) => `${units}\u00a0×\u00a0${part} to spare`,
    amount: (amount: string, part: string) => `${amount} of ${part}`,
    amountSpare: (amount: string, part: string) => `${amount} of ${part} to spare`,
    tooMany: (units: string, part: string) => `${units} × ${part} more than goes to the site`,
    parts: 'Parts',
    spares: 'Spares',
    tools: 'Tools',
    kit: 'Repair kit',
    empty: 'Nothing in it yet.',
    size: (w: string, h: string, d: string) => `${w} × ${h} × ${d}\u00a0mm`,
    noSize: 'no size given',
    weight: (kg: string) => `${kg}\u00a0kg`,
    noWeight: 'not weighed',
    carriers: (n: number) => (n === 1 ? 'one lifts it' : `${n} lift it together`),
    heavy: (by: string, carriers: number, guideline: string) =>
      `${by}\u00a0kg above the guideline of ${guideline}\u00a0kg for ${carriers === 1 ? 'one person' : `${carriers} people`}: divide it, or more hands, or a trolley.`,
    proposals: {
      heading: (n: number) => `Proposed for the boxes: ${n}`,
      note: 'Nothing is packed until you take it; each goes into the box that you choose.',
      waiting: 'The plan is being worked out after the last change: take more in a moment.',
      units: (units: string, part: string) => `${units}\u00a0×\u00a0${part}, in no box`,
      spares: (units: string, part: string) => `${units}\u00a0×\u00a0${part} to spare, in no box`,
      'one-more': (part: string) =>
        `1\u00a0×\u00a0${part} more: there is none to spare, and without it the show stops. Taking it adds a spare to the design.`,
      tool: (tool: string, steps: readonly string[]) => `${tool}, tool of ${listOf(steps, steps.length)}`,
      repair: (part: string) => `some ${part}, for repairs`,
      into: (what: string) => `Box for ${what}`,
      newBox: 'a new box',
      newName: (n: number) => `Box ${n}`,
      take: 'Put in',
      notNeeded: 'Not needed',
      again: 'Propose it again',
      notNeededHeading: (n: number) => `Not needed, as you said: ${n}`,
      powerOn: { home: 'a power-on at home', venue: 'a power-on at the venue' },
    },
    heavySource:
      'Guideline: 25 kg for one man, 16 kg for one woman, close to the body at hip height; two together two thirds of what each lifts alone, more than two half (HSE, Manual handling at work, INDG143 and L23; ISO 11228-1; from memory). It is no limit of the law; local law decides.',
    unpacked: (what: readonly string[]) => `In no box: ${listOf(what, what.length)}.`,
    allPacked: 'All that goes to the site is in a box.',
    nothing: 'No part goes to the site: no step of the plan is on site.',
    done: (packed: number, all: number) => `${packed} of ${some(all, 'box', 'boxes')} packed`,
    tick: 'Packed',
    untick: 'Not packed after all',
    packed: (when: string, who: string) => `packed ${when}, ${who}`,
    maker: 'maker',
    kept: 'kept on this phone until the laptop answers',
    sent: 'saved on the laptop',
  },
  ways: {
    heading: 'Van, doors, lift',
    none: 'No van, door or lift yet. Measure each on the way: clear width, height and depth, and what it may carry.',
    kinds: { van: 'van', door: 'door', lift: 'lift' },
    size: (sides: string) => `${sides}\u00a0mm clear`,
    payload: (kg: string) => `carries ${kg}\u00a0kg`,
    fits: (n: number, all: number) =>
      all === 0
        ? 'no box to try'
        : all === 1
          ? `the box ${n === 1 ? 'fits' : 'does not fit'}`
          : `${n === all ? 'all' : `${n} of`} ${all} boxes fit`,
    noFit: (box: string, turned: string, over: string) =>
      `${box} does not fit; turned as ${turned}\u00a0mm it is still ${over} too long.`,
    over: (side: string, by: string) => `${by}\u00a0mm in ${side}`,
    sides: { width: 'width', height: 'height', depth: 'depth' },
    unknown: (boxes: readonly string[]) => `Without a size: ${listOf(boxes, boxes.length)}.`,
    unweighed: (boxes: readonly string[]) => `Not weighed: ${listOf(boxes, boxes.length)}.`,
    weight: (load: string, payload: string) => `${load} of ${payload}\u00a0kg`,
    heaviest: (load: string, payload: string) => `heaviest box ${load} of ${payload}\u00a0kg`,
    tooHeavy: (by: string) => `${by}\u00a0kg too heavy`,
    volume: (load: string, room: string) => `${load} of ${room}\u00a0L; boxes leave gaps, so try it on the floor first`,
    tooFull: (by: string) => `${by}\u00a0L more than it holds`,
  },
  points: {
    heading: 'Points to hang from',
    none: 'No point yet. For each: what hangs there, what it may carry, who signs.',
    load: (load: string, limit: string) => `${load} of ${limit}\u00a0kg`,
    unknown: (limit: string) => `load not known, limit ${limit}\u00a0kg`,
    over: (by: string) => `${by}\u00a0kg too much`,
    margin: (by: string) => `${by}\u00a0kg in hand`,
    signed: (who: string) => `signed for by ${who}`,
    toSign: (who: string, gate: string) => `${who} signs at “${gate}”`,
    noGate: (who: string) => `${who} signs, at no gate yet`,
    nobody: 'nobody named who signs',
    note: 'A competent person signs for each point. The venue and local law decide who that is.',
  },
  run: {
    heading: 'Run sheet',
    note: 'As planned, from the load-in to the event. The last moment keeps the event: begin later, and it is late.',
    none: 'No step is done on site. Mark those that are, on Steps.',
    past: 'Nothing is left to do on site.',
    gate: 'gate',
    loadIn: 'Load-in',
    event: 'Event',
    ready: 'Ready-by',
    last: (when: string) => `last moment ${when}`,
    nobody: 'nobody needed',
    who: (names: readonly string[], length: string) => `${listOf(names, names.length)}, ${length}`,
    units: (n: string) => `${n}\u00a0×`,
    kinds: { hands: '', load: 'load', unload: 'unload', run: 'runs', wait: 'waits' },
    incomplete:
      'Not complete: what hangs above people, and mains, need a competent person by name and a gate to sign at.',
    pointUnnamed: (point: string) => `Point ${point}: nobody named who signs.`,
    pointUngated: (point: string, who: string) => `Point ${point}: ${who} signs, at no gate yet.`,
    notYet: (steps: readonly string[]) =>
      `Left to do on site, but not in this run, because nobody may do it or is free for it: ${listOf(steps, steps.length)}.`,
  },
  power: {
    heading: 'Power-on',
    none: 'No gate is marked as a power-on. Mark one at home and one at the venue; its note says what to do when it fails.',
    home: 'at home',
    homeBefore: (hasLoadIn: boolean) => `at home, on a day before the ${before(hasLoadIn)}`,
    venue: 'at the venue',
    passed: 'passed',
    tooLate: (hasLoadIn: boolean) =>
      `It leaves no night before the ${before(hasLoadIn)} to mend what fails: bring it forward.`,
    last: (when: string) => `last moment ${when}`,
    fails: 'When it fails:',
    noNote: 'Nobody has written what to do when it fails.',
  },
  strike: {
    heading: 'Strike and return',
    note: 'After the event, one job after the other.',
    fromEvent: 'Counted from the event itself: say on Contents when taking down may begin.',
    none: 'No job yet: taking down, carrying out, driving back, returning what was hired.',
    line: (people: string, length: string) => `${people}, ${length}`,
    hands: (n: number) => (n === 1 ? '1 person' : `${n} people`),
    end: (when: string) => `done ${when}`,
  },
  jump: 'On this sheet',
  refused: {
    box: (box: string) => `“${box}” is not a box of this build; tick one of the boxes on this sheet.`,
    proposal: (what: string) => `“${what}” is not proposed any more: a box has it, or nothing asks for it.`,
    answer: (answer: string) => `“${answer}” is no answer to a proposal; it is put in, not-needed, or again.`,
    entry: (id: string) => `There is no entry “${id}” to undo.`,
  },
});
