/** A length of work in hours and minutes: SI symbols, the same in every language. */

/**
 * Minutes of work or rest as `28 h 30 min`, never in days: a working day is as long as somebody's hours. Fractions
 * count as a whole minute. `gap` is between a number and its symbol.
 *
 *     hoursAndMinutes(1710) // '28 h 30 min'
 *     hoursAndMinutes(59.2) // '1 h'
 */
export function hoursAndMinutes(minutes: number, gap = ' '): string {
  if (minutes < 0) return `−${hoursAndMinutes(-minutes, gap)}`;
  const whole = Math.ceil(minutes);
  const [hours, rest] = [Math.floor(whole / 60), whole % 60];
  if (hours === 0) return `${rest}${gap}min`;
  return rest === 0 ? `${hours}${gap}h` : `${hours}${gap}h ${rest}${gap}min`;
}
