import { describe, expect, it } from 'vitest';
import type { LeverRow, LeverSearch } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { Lead } from '../../../views/parts/lead.tsx';
import { renderFragment } from '../../../views/render.ts';
import { texts } from '../../../views/texts/index.ts';
import type { BuildPage } from '../../../views/types.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { FAKE_NOW, fakeForecast } from '../../support/fake-forecast.ts';

const LATE: BuildPage = {
  ...{ build: fakeBuild(), revision: 1, forecast: fakeForecast({ lateMinutes: 3000 }), entries: 0, stale: false },
  ...{ computedAt: FAKE_NOW, seen: '1', light: null, clock: wallClock('Europe/Amsterdam') },
};

const WORTH = { readyAt: FAKE_NOW, room: -600, chance: 0.2, compared: null, score: 1 };

const GAINING: LeverRow = {
  ...WORTH,
  lever: {
    ...{ code: 'one-more-person', values: { like: 'maker' }, changes: [] },
    cost: { money: null, handsMinutes: 0 },
  },
  ...{ verdict: 'gains', reason: null, warnings: [], drives: 0.5 },
};

function found(more: Partial<LeverSearch>): LeverSearch {
  return {
    ...{ now: FAKE_NOW, readyBy: FAKE_NOW, present: null, neck: null, rows: [], pair: null, triple: null, takes: null },
    ...{ freeUntil: [], sets: [], futures: 0, tried: 0, toTry: 0, isDone: true, ...more },
  };
}

function leadOf(search: LeverSearch | null): string {
  const levers = search === null ? null : { search, state: 'ended' as const, isStale: false };
  return renderFragment(Lead({ page: LATE, levers })!).replaceAll(/<[^>]*>/g, ' ');
}

describe('after a count, before the new chance is drawn', () => {
  const said = (forecast: BuildPage['forecast']) =>
    renderFragment(Lead({ page: { ...LATE, forecast } })!).replaceAll(/<[^>]*>/g, ' ');

  it('says that the chance may still show more, beside threats and where there are none', () => {
    const old = fakeForecast({ oldRisk: true });
    expect(said({ ...old, threats: [] })).toContain(texts.lead.nothingYet);
    expect(said(old)).toContain(texts.lead.moreToCome);
    const { risk: _, ...without } = fakeForecast();
    expect(said({ ...without, threats: [] })).toContain(texts.lead.nothingYet);
  });

  it('says no such thing of a chance that is its own', () => {
    expect(said({ ...fakeForecast(), threats: [] })).toContain(texts.lead.nothing);
    expect(said(fakeForecast())).not.toContain(texts.lead.moreToCome);
  });
});

describe('a plan whose event has gone by', () => {
  it('is offered nothing that would bring its date back', () => {
    const { forecast } = LATE;
    const draw = (now: number) => Lead({ page: { ...LATE, forecast: { ...forecast, now } }, levers: null });
    expect(renderFragment(draw(forecast.event - 60)!)).toContain(texts.lead.lookForWays);
    const after = draw(forecast.event + 60);
    expect(after === null ? '' : renderFragment(after)).not.toContain(texts.lead.lookForWays);
    expect(after === null ? '' : renderFragment(after)).not.toContain(texts.lead.nothing);
  });
});

describe('a plan that is late', () => {
  it('has a way back where what was found keeps the date, else only what helps', () => {
    const takes = { ...WORTH, rows: [0], keeps: true };
    const short = { ...takes, keeps: false };
    expect(leadOf(found({ rows: [GAINING], takes }))).toContain(texts.lead.wayBack);
    for (const search of [null, found({ rows: [GAINING], takes: short }), found({ rows: [GAINING], isDone: false })]) {
      expect(leadOf(search)).toContain(texts.lead.helps);
      expect(leadOf(search)).not.toContain(texts.lead.wayBack);
    }
  });

  it('says after the search that nothing keeps the date, and not before', () => {
    expect(leadOf(found({}))).toContain(texts.levers.takesNothing);
    expect(leadOf(found({}))).not.toContain(texts.lead.lookForWays);
    for (const search of [null, found({ isDone: false }), found({ rows: [GAINING] })]) {
      expect(leadOf(search)).not.toContain(texts.levers.takesNothing);
    }
  });
});
