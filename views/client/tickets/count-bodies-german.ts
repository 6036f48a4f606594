/** The same for a phone that reads German. */
import '../../german/count/phone.ts';
import '../../german/count/sheet.ts';

export { bodyText } from './count-bodies.ts';
