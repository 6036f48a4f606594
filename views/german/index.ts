/** All texts in German: each file gives a table of `views/texts` its translation when it is loaded. */
import './design.ts';
import './edit.ts';
import './frame.ts';
import './glance/countdown.ts';
import './glance/dates.ts';
import './glance/lead.ts';
import './glance/load.ts';
import './glance/now.ts';
import './glance/pictures.ts';
import './glance/place.ts';
import './glance/unsaved.ts';
import './grammar.ts';
import './keys.ts';
import './options.ts';
import './pages.ts';
import './ripple.ts';
import './troubles.ts';
