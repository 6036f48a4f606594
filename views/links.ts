/** Addresses of the sheets. */
import type { texts } from './texts/index.ts';

export type Screen = keyof typeof texts.screens;

/**
 *     screenHref('slow-ceiling', 'dates') // '/b/slow-ceiling/dates'
 */
export function screenHref(build: string, screen: Screen): string {
  return screen === 'countdown' ? `/b/${build}` : `/b/${build}/${screen}`;
}

/** Who counts: codes for helpers, and who has come in. */
export function helpersHref(build: string): string {
  return `/b/${build}/helpers`;
}

/** The ledger of room since a day, a week or the start, `before` a row of it. */
export function ledgerHref(build: string, span?: string, before?: number): string {
  const query = [span === undefined ? '' : `since=${span}`, before === undefined ? '' : `before=${before}`];
  const asked = query.filter((it) => it !== '').join('&');
  return `/b/${build}/ledger${asked === '' ? '' : `?${asked}`}`;
}

/** Where the list of formulas is. */
export function formulasHref(build: string): string {
  return `${screenHref(build, 'design')}/formulas`;
}
