import { describe, expect, it } from 'vitest';
import { createPedal, type PedalKey } from '../../../../views/client/count/count-pedal.ts';

describe('a pedal', () => {
  it('counts each press of any key once', () => {
    const pedal = createPedal();
    const got = ['PageDown', 'Enter', ' ', 'b', 'AudioVolumeUp', 'Unidentified'].map((name, i) => {
      const what = pedal.down(key(name, i * 400));
      pedal.up({ key: name, timeStamp: i * 400 + 120 });
      return what;
    });
    expect(got).toEqual(Array(6).fill('press'));
  });

  it('takes contacts that chatter within 80 ms for one press', () => {
    const pedal = createPedal();
    const got = [0, 4, 11, 35, 79].map((time) => pedal.down(key('b', time)));
    expect(got).toEqual(['press', 'held', 'held', 'held', 'held']);
    expect(pedal.down(key('b', 80))).toBe('press');
  });

  it('takes a chatter on letting go for the same press', () => {
    const pedal = createPedal();
    pedal.down(key('b', 0));
    pedal.up({ key: 'b', timeStamp: 600 });
    expect(pedal.down(key('b', 606))).toBe('held');
    pedal.up({ key: 'b', timeStamp: 612 });
    expect(pedal.down(key('b', 640))).toBe('held');
    pedal.up({ key: 'b', timeStamp: 645 });
    expect(pedal.down(key('b', 700))).toBe('press');
  });

  it('does not count the repeats of a key that is held down', () => {
    const pedal = createPedal();
    pedal.down(key('b', 0));
    const repeats = Array.from({ length: 30 }, (_, i) => pedal.down(key('b', 500 + i * 33, { repeat: true })));
    expect(new Set(repeats)).toEqual(new Set(['held']));
  });

  it('does not count repeats that the phone does not mark as such', () => {
    const pedal = createPedal();
    pedal.down(key('b', 0));
    pedal.up({ key: 'b', timeStamp: 60 });
    const held = Array.from({ length: 30 }, (_, i) => pedal.down(key('b', 1000 + (i === 0 ? 0 : 500 + i * 33))));
    expect(held).toEqual(['press', ...Array(29).fill('held')]);
    pedal.up({ key: 'b', timeStamp: 2600 });
    expect(pedal.down(key('b', 2700))).toBe('press');
  });

  it('counts each press of a clicker that never says when its key is let go', () => {
    const pedal = createPedal();
    expect([0, 200, 400].map((at) => pedal.down(key('VolumeUp', at)))).toEqual(['press', 'press', 'press']);
  });

  it('leaves the keys that lead out and around to the page', () => {
    const pedal = createPedal();
    for (const name of ['Escape', 'Tab', 'Shift']) expect(pedal.down(key(name, 0))).toBe('other');
    expect(pedal.down(key('r', 0, { ctrlKey: true }))).toBe('other');
  });
});

function key(name: string, timeStamp: number, changes: Partial<PedalKey> = {}): PedalKey {
  return { key: name, timeStamp, repeat: false, ctrlKey: false, altKey: false, metaKey: false, ...changes };
}
