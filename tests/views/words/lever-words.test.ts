import { describe, expect, it } from 'vitest';
import type { Lever, LeverReason, LeverRow } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import {
  gainedText,
  leverChanceText,
  leverCostText,
  leverText,
  reasonText,
  warnedTexts,
} from '../../../views/words/lever-words.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;
const clock = wallClock('UTC');
const SATURDAY = { date: '2026-12-05', weekday: 6 };
const FREE = { changes: [], cost: { money: 0, handsMinutes: 0 } };
const words = (lever: Omit<Lever, 'changes' | 'cost'>) => leverText({ ...lever, ...FREE } as Lever);
const plain = (text: string) => text.replaceAll(/[\u00a0\u202f]/g, ' ');

describe('a lever in words', () => {
  it('says what it changes, whatever it is', () => {
    const said = [
      words({ code: 'helper-day', values: { day: SATURDAY, minutes: 360 } }),
      words({ code: 'helper-days', values: { days: [SATURDAY, { date: '2026-12-06', weekday: 7 }], minutes: 720 } }),
      words({ code: 'one-more-person', values: { like: 'Runa' } }),
      words({ code: 'longer-evenings', values: { person: 'Runa', minutes: 60, days: 5, limit: 'rest' } }),
      words({ code: 'one-more-machine', values: { machine: 'Printer', count: 2 } }),
      words({ code: 'express', values: { name: 'motor', supplier: 'Mill' } }),
      words({ code: 'other-way', values: { name: 'bough', from: 'here', to: 'the welder' } }),
      words({ code: 'fewer', values: { name: 'fish', from: 72, to: 60 } }),
      words({ code: 'smaller-lots', values: { step: 'sand', from: 12, to: 6, isAssumed: true } }),
      words({ code: 'larger-lots', values: { step: 'sand', from: 12, to: 24, isAssumed: false } }),
      words({ code: 'left-out', values: { step: 'second coat' } }),
      words({ code: 'prove-first', values: { gate: 'it swims' } }),
      words({ code: 'prove-along', values: { gate: 'it swims' } }),
      words({ code: 'split-step', values: { step: 'wire', how: 'either', people: ['Runa', 'Jo'] } }),
      words({ code: 'split-step', values: { step: 'pack', how: 'together', people: ['Runa', 'Jo'] } }),
      words({ code: 'may-too', values: { step: 'print', person: 'Jo' } }),
      words({ code: 'other-worker', values: { step: 'wire', from: 'Runa', to: 'Jo' } }),
      words({ code: 'no-nights', values: { people: ['Runa'] } }),
    ].map(plain);
    expect(said).toEqual([
      'A helper on Sat 5 Dec (6 h)',
      'A helper on Sat 5 Dec and Sun 6 Dec (12 h)',
      'One more person, with Runa’s hours',
      'Runa 1 h longer on 5 days a week, as far as 11 h of rest allow',
      'One more Printer (2 altogether)',
      'motor by express (Mill)',
      'bough: the welder instead of here',
      'fish: 60 instead of 72',
      'sand: lots of 6 instead of 12 (assumed)',
      'sand: lots of 24 instead of 12',
      'Leave out: second coat',
      'Prove one set first: it swims',
      'Start the other sets before the first has passed: it swims',
      'wire: by Runa and Jo',
      'pack: two at once, if it can be halved',
      'Jo may do this too: print',
      'wire: by Jo instead of Runa',
      'No nights for Runa',
    ]);
  });

  it('says why it buys nothing, the neck with its day', () => {
    const because = (reason: LeverReason) => plain(reasonText(reason, clock, NOW));
    const neck = { kind: 'machine' as const, name: 'the printer', until: NOW + 4 * 1440 };
    expect(because({ code: 'neck', neck })).toBe('the printer is the bottleneck until Sat 5 Dec');
    expect(because({ code: 'off-chain', neck: null })).toBe('it does not touch what sets the date');
    expect(because({ code: 'made', made: 15 })).toBe('15 are made already');
    expect(because({ code: 'untried' })).toContain('not tried');
  });

  it('says what it costs and gains, with errors', () => {
    expect(plain(leverCostText({ money: 0, handsMinutes: 0 }, 'EUR'))).toBe('nothing');
    expect(plain(leverCostText({ money: 18, handsMinutes: 240 }, 'EUR'))).toBe('18 EUR, 4 h of work');
    expect(plain(leverCostText({ money: null, handsMinutes: 0 }, 'EUR'))).toBe('not known');
    expect(plain(leverCostText({ money: -40, handsMinutes: 0 }, 'EUR'))).toBe('saves 40 EUR');
    const none = { mean: 0, error: 0 };
    const compared = {
      futures: 400,
      readyAt: { mean: -300, error: 20 },
      finishAt: none,
      readyBy: { mean: 0.08, error: 0.01 },
      event: none,
    };
    expect(plain(JSON.stringify(gainedText({ compared })))).toBe('{"is":"5 h more","error":"± 20 min"}');
    expect(plain(JSON.stringify(leverChanceText({ chance: 0.84, compared })))).toBe(
      '{"is":"84 %","differs":"+8 points ± 1"}',
    );
    const warnings = [
      { code: 'week', person: 'runa' },
      { code: 'week', person: 'runa' },
    ] as unknown as LeverRow['warnings'];
    expect(warnedTexts({ warnings }, () => 'Runa')).toEqual(['Runa: more than 48\u00a0h in a week']);
  });
});
