/** Every text that a page shows stands in this folder, ready to be put into another language. */
import { countdownTexts } from './texts/countdown.ts';
import { dateTexts } from './texts/dates.ts';
import { doubtTexts, paceTexts } from './texts/doubts.ts';
import { editTexts } from './texts/edit.ts';
import { frameTexts } from './texts/frame.ts';
import { hoursTexts } from './texts/hours.ts';
import { ledgerTexts } from './texts/ledger.ts';
import { pageTexts } from './texts/pages.ts';
import { pictureTexts } from './texts/pictures.ts';
import { scheduleTexts } from './texts/schedule.ts';
import { soundnessTexts } from './texts/soundness.ts';
import { threatTexts } from './texts/threats.ts';

export const texts = {
  ...frameTexts,
  countdown: countdownTexts,
  dates: dateTexts,
  doubts: doubtTexts,
  edit: editTexts,
  hours: hoursTexts,
  pace: paceTexts,
  pictures: pictureTexts,
  schedule: scheduleTexts,
  soundness: soundnessTexts,
  threats: threatTexts,
  ledger: ledgerTexts,
  ...pageTexts,
};
