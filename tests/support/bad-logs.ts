/** Builds whose log is bad or thin, each with a bit of the sentence that a page must show. */
import type { Build, LogEntry } from '../../server/model/index.ts';
import { filing, log } from '../engine/_filing.ts';

export interface BadLog {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly sheet: '' | '/steps';
  readonly says: string;
}

const named = (id: string, build: Build = filing(3)): Build => ({ ...build, id, name: id });
const gate = (failChance: number) => ({
  gates: [{ id: 'soak', name: 'soak test', after: ['file'], minutes: 60, failChance }],
});

/** One of each kind, to be looked at on Thu 10 Dec 2026 18:00. */
export const BAD_LOGS: readonly BadLog[] = [
  { build: named('no-log'), log: [], sheet: '', says: 'Nothing is logged yet' },
  {
    build: named('one-entry'),
    log: log(['09T18:00', 'done', 20]),
    sheet: '/steps',
    says: '20 counted, in an unknown time',
  },
  {
    build: { ...named('weeks'), start: '2026-11-01T09:00' },
    log: log(['01T18:00', 'done', 20]).map((entry) => ({ ...entry, at: '2026-11-20T18:00:00Z' })),
    sheet: '',
    says: 'Nothing is logged from Fri 20 Nov 18:00 to now',
  },
  {
    build: named('one-instant'),
    log: log(['09T18:00', 'done', 90], ['09T18:00', 'done', 60]),
    sheet: '/steps',
    says: '150 counted, in an unknown time',
  },
  {
    build: named('wrong-clock'),
    log: log(['09T18:00', 'done', 20]).map((entry) => ({ ...entry, at: '2026-09-01T00:00:00Z' })),
    sheet: '',
    says: 'more than 30 days before the build starts',
  },
  {
    build: named('slow', filing(1)),
    log: log(['09T13:00', 'began'], ['09T17:00', 'done', 12], ['09T21:00', 'done', 12]),
    sheet: '',
    says: '20 times as long',
  },
  { build: named('never-fails', { ...filing(3), ...gate(0) }), log: [], sheet: '', says: 'is set never to fail' },
  {
    build: named('always-fails', { ...filing(3), ...gate(1) }),
    log: [],
    sheet: '',
    says: 'is set to fail every time',
  },
  {
    build: {
      ...named('no-hours'),
      event: '2026-12-11T08:00',
      people: [{ id: 'ria', name: 'Ria', hours: 'sun 09:00-10:00' }],
    },
    log: [],
    sheet: '',
    says: 'Nobody has hours between now and the ready-by',
  },
];
