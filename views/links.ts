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
