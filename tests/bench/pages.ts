/**
 * `npm run bench -- pages [fish per panel]`: how long the sheets of the Tide Wall take to draw, as processor time,
 * without the forecast.
 */

import { planBuild } from '../../server/engine/plan.ts';
import { wallClock } from '../../server/web/wall-clock.ts';
import { type Html, renderFragment } from '../../views/render.ts';
import { BalanceSheet } from '../../views/sheets/balance.tsx';
import { BurnSheet, StepSheet } from '../../views/sheets/burn-down.tsx';
import { CountdownSheet } from '../../views/sheets/countdown.tsx';
import { DatesSheet } from '../../views/sheets/dates.tsx';
import { DesignSheet } from '../../views/sheets/design.tsx';
import { StepsSheet } from '../../views/sheets/steps.tsx';
import type { BuildPage } from '../../views/types.ts';
import { tideWall } from '../support/builds/tide-wall.ts';

const WARM = 20;
const ROUNDS = 50;

export default function pages([fishPerPanel]: string[]): void {
  const now = Math.floor(Date.now() / 60_000);
  const { build, log = [] } = tideWall(now);
  const fish = build.parameters?.find((it) => it.name === 'fish_per_panel');
  if (fishPerPanel !== undefined && fish !== undefined) fish.value = Number(fishPerPanel);
  const forecast = planBuild(build, log, now, { levelling: { seed: 1, schedules: 1 }, risk: { seed: 1 } });
  const page: BuildPage = {
    build,
    revision: 1,
    forecast,
    entries: log.length,
    computedAt: now,
    stale: false,
    seen: '1',
    clock: wallClock(forecast.build.zone),
    light: null,
  };
  console.log(`${forecast.lots.length} lots, ${forecast.steps.length} steps`);
  const sheets: [string, () => Html][] = [
    ['countdown', () => CountdownSheet({ page })],
    ['steps', () => StepsSheet({ page, open: null })],
    ['dates', () => DatesSheet({ page })],
    ['burn-down', () => BurnSheet({ page })],
    ['balance', () => BalanceSheet({ page })],
    ['step', () => StepSheet({ page, step: forecast.steps.find(({ id }) => id === 'mount-fish')! })],
    ['design', () => DesignSheet({ page, open: null })],
  ];
  for (const [name, sheet] of sheets) {
    for (let i = 0; i < WARM; i++) renderFragment(sheet());
    const begun = process.cpuUsage();
    let bytes = 0;
    for (let i = 0; i < ROUNDS; i++) bytes = renderFragment(sheet()).length;
    const { user, system } = process.cpuUsage(begun);
    console.log(`${name.padEnd(10)} ${((user + system) / 1000 / ROUNDS).toFixed(2)} ms, ${bytes} bytes`);
  }
}
