/** Every text that a page shows stands in this folder, ready to be put into another language. */

import { joined } from '../../server/model/texts/language.ts';
import { designTexts } from './design.ts';
import { doubtTexts, paceTexts } from './doubts.ts';
import { editTexts } from './edit.ts';
import { frameTexts } from './frame.ts';
import { answerTexts } from './glance/answers.ts';
import { countdownTexts } from './glance/countdown.ts';
import { dateTexts } from './glance/dates.ts';
import { leadTexts } from './glance/lead.ts';
import { loadTexts } from './glance/load.ts';
import { nowTexts } from './glance/now.ts';
import { pictureTexts } from './glance/pictures.ts';
import { placeTexts } from './glance/place.ts';
import { unsavedTexts } from './glance/unsaved.ts';
import { waitTexts } from './glance/waits.ts';
import { hoursTexts } from './hours.ts';
import { ledgerTexts } from './ledger.ts';
import { leverTexts, wayTexts } from './levers.ts';
import { lineTexts } from './lines.ts';
import { optionTexts } from './options.ts';
import { pageTexts } from './pages.ts';
import { rippleTexts } from './ripple.ts';
import { scheduleTexts } from './schedule.ts';
import { soundnessTexts } from './soundness.ts';
import { threatTexts } from './threats.ts';

export const texts = joined(frameTexts, pageTexts, {
  answers: answerTexts,
  countdown: countdownTexts,
  dates: dateTexts,
  doubts: doubtTexts,
  edit: editTexts,
  hours: hoursTexts,
  pace: paceTexts,
  pictures: pictureTexts,
  ripple: rippleTexts,
  schedule: scheduleTexts,
  soundness: soundnessTexts,
  threats: threatTexts,
  ledger: ledgerTexts,
  ofDesign: designTexts,
  now: nowTexts,
  lead: leadTexts,
  unsaved: unsavedTexts,
  load: loadTexts,
  place: placeTexts,
  lines: lineTexts,
  levers: leverTexts,
  options: optionTexts,
  ways: wayTexts,
  waits: waitTexts,
});
