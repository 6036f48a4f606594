/** The words of what builds forget and of patterns of work: each line is a guess, with its reason. */
import { worded } from '../../../server/model/texts/language.ts';

export const forgottenTexts = worded({
  heading: 'What builds forget',
  note: 'This build has none of these yet. A tap puts a line into the field; times are guessed (common practice, no source): change them.',
  patterns: 'Patterns of work',
  patternsNote:
    'A tap puts a line into the field. Name, counts and times are guessed (common practice, no source): put in your own.',
  reason: {
    cure: 'Paint, glue and resin need a day before anybody handles them.',
    test: 'About one first test in ten fails, and what failed is done again.',
    spares: 'About three in a hundred break, get lost or are dropped.',
    pack: 'Crates, blankets and straps take half a day for two.',
    drive: 'The way there is no work at the bench, and needs somebody at the wheel.',
    'load-in': 'Carrying in, power and a place for it take two people two hours.',
    strike: 'Afterwards somebody takes it down, carries it out and drives it back: it goes to Show day.',
  },
  pattern: {
    print: ['Print a plate', 'A plate runs unattended; take the time that your slicer says.'],
    cut: ['Cut sheets', 'A stop or a jig is set once a lot; time one of them.'],
    order: ['Order', 'A supplier’s days count from the order; one spare, since another order takes as long.'],
    paint: ['Paint and dry', 'Drying needs nobody; take the hours of the tin.'],
    press: ['Press in', 'Cut a trial strip first: a fit that is wrong is wrong for all.'],
    fit: ['Fit', 'Time the first three: a first guess is half of what it takes.'],
    wire: ['Wire', 'One at a time, so that a mistake stays in one.'],
    soak: ['Soak', 'Running it overnight finds what an hour does not.'],
    test: ['Test that may fail', 'A new test fails about once in five; what it sends back is said by “3 back to …”.'],
    pack: ['Pack', 'Half a day for two.'],
    'load-in': ['Load in', 'Two people, two hours, without what goes wrong there.'],
    strike: ['Strike', 'Taking down goes faster than putting up, but people are tired then.'],
  } as const,
});
