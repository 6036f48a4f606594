/** The Count page of a phone that reads German: the same, with the German of what it says by itself. */
import '../../german/count/phone.ts';
import './count.ts';
