/** The words of what depends on a design, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { designTexts } from '../texts/design.ts';
import { byNumber, listOf } from '../texts/grammar.ts';

inGerman(designTexts, {
  limits: 'Grenzen',
  limitsNote: 'Woran sich der Entwurf halten muss. Jede Änderung wird daran geprüft.',
  limitUnknown: 'lässt sich nicht ausrechnen',
  least: (value) => `mindestens ${value}`,
  most: (value) => `höchstens ${value}`,
  mayBe: (low, high) => `${low} bis ${high}, noch nicht bekannt`,
  kept: 'eingehalten',
  broken: 'verletzt',
  mayBreak: 'vielleicht verletzt',
  concerns: (parts) => `betrifft ${listOf(parts)}`,
  limitBroken: (name, value, bounds) => `${name} ist ${value}; es muss ${bounds} sein.`,
  limitMayBreak: (name, low, high, bounds) =>
    `${name} kann alles von ${low} bis ${high} sein; es muss ${bounds} sein. Klär das, bevor du mehr fertigst.`,
  itConcerns: (parts) => `Es betrifft ${listOf(parts)}.`,
  settle: (parameter, low, high) =>
    `Wie groß ist ${parameter}: ${low} bis ${high}? Finde es durch einen Versuch heraus.`,
  settleShort: (parameter) => `${parameter} durch einen Versuch klären.`,
  countsFrom: (part, low, likely, high) => `${part} ${low} bis ${high}, wahrscheinlich ${likely}`,
  moreForHigh: (more, name, cost) => `${more} × ${name} mehr für den höchsten Wert${cost === null ? '' : `, ${cost}`}`,
  orderHigh: (units, cost) => `${units} Stück mehr für den höchsten Wert${cost === null ? '' : `, ${cost}`}`,
  settleBy: (when) => `vor ${when} klären`,
  nothingWaits: 'nichts hängt mehr davon ab',
  unchecked: (name, units, because) =>
    `${name}: ${units} Stück von vor ${because === null ? 'einer Änderung' : `der Änderung „${because}“`} ${byNumber(units, 'ist', 'sind')} ungeprüft. Sieh ${byNumber(units, 'es', 'sie')} an und sag unter Entwurf, ob ${byNumber(units, 'es', 'sie')} noch gut ${byNumber(units, 'ist', 'sind')}.`,
});
