import { describe, expect, it } from 'vitest';
import { lantern, openStore, SAVED } from './helpers.ts';

const CODE = { hash: 'code', build: 'lantern', createdAt: 0, expiresAt: 1000, mostUses: 2 };
const ana = { id: 'h1', name: 'Ana', tokenHash: 't1' };

function lanternAccess() {
  const store = openStore();
  store.builds.create(lantern(), SAVED);
  store.builds.create(lantern({ id: 'arch' }), SAVED);
  return { ...store, access: store.access };
}

describe('the maker', () => {
  it('has one key, and a new key ends the sessions of the old one', () => {
    const { access } = lanternAccess();
    expect(access.makerKeyHash()).toBeNull();
    access.setMakerKey('first', 1);
    access.openMakerSession('s1', 2);
    expect(access.isMakerSession('s1', 0)).toBe(true);
    expect(access.isMakerSession('s1', 2)).toBe(false);
    expect(access.isMakerSession('s2', 0)).toBe(false);
    access.setMakerKey('second', 3);
    expect(access.makerKeyHash()).toBe('second');
    expect(access.isMakerSession('s1', 0)).toBe(false);
  });

  it('can end a session', () => {
    const { access } = lanternAccess();
    access.openMakerSession('s1', 2);
    access.endMakerSession('s1', 3);
    expect(access.isMakerSession('s1', 0)).toBe(false);
  });
});

describe('helpers', () => {
  it('join one build with a code, as often as the code allows', () => {
    const { access } = lanternAccess();
    expect(access.addJoinCode(CODE)).toBe(true);
    expect(access.checkJoinCode('code', 10)).toEqual({ build: 'lantern' });
    expect(access.join('code', ana, 10)).toEqual({
      id: 'h1',
      build: 'lantern',
      name: 'Ana',
      createdAt: 10,
      endedAt: null,
    });
    expect(access.join('code', { id: 'h2', name: 'Bo', tokenHash: 't2' }, 11)).toMatchObject({ name: 'Bo' });
    expect(access.join('code', { id: 'h3', name: 'Cy', tokenHash: 't3' }, 12)).toBe('used-up');
    expect(access.helpers('lantern').map((h) => h.name)).toEqual(['Ana', 'Bo']);
    expect(access.helpers('arch')).toEqual([]);
  });

  it('are refused with a code that is unknown, expired or ended', () => {
    const { access } = lanternAccess();
    access.addJoinCode(CODE);
    expect(access.join('other', ana, 10)).toBe('unknown-code');
    expect(access.join('code', ana, 1000)).toBe('expired');
    access.endJoinCodes('lantern', 20);
    expect(access.join('code', ana, 21)).toBe('unknown-code');
    expect(access.helpers('lantern')).toEqual([]);
  });

  it('have names of their own, and a refused name costs no use', () => {
    const { access } = lanternAccess();
    access.addJoinCode(CODE);
    access.join('code', ana, 10);
    expect(access.join('code', { id: 'h2', name: 'ANA', tokenHash: 't2' }, 11)).toBe('name-taken');
    expect(access.join('code', { id: 'h2', name: 'Bo', tokenHash: 't2' }, 12)).toMatchObject({ id: 'h2' });
  });

  it('never bear the maker’s name', () => {
    const { access } = lanternAccess();
    access.addJoinCode(CODE);
    expect(access.join('code', { ...ana, name: ' Maker' }, 10)).toBe('name-taken');
    expect(access.helpers('lantern')).toEqual([]);
  });

  it('are known by their token until they are ended', () => {
    const { access } = lanternAccess();
    access.addJoinCode(CODE);
    access.join('code', ana, 10);
    expect(access.helperByToken('t1')?.build).toBe('lantern');
    expect(access.endHelper('arch', 'h1', 20)).toBe(false);
    expect(access.endHelper('lantern', 'h1', 20)).toBe(true);
    expect(access.endHelper('lantern', 'h1', 21)).toBe(false);
    expect(access.helperByToken('t1')).toBeNull();
    expect(access.helpers('lantern')[0]!.endedAt).toBe(20);
  });

  it('go with the build when it is removed', () => {
    const { access, builds } = lanternAccess();
    access.addJoinCode({ ...CODE, mostUses: 5 });
    access.join('code', ana, 10);
    builds.remove('lantern', '2026-12-01T00:00:00Z');
    expect(access.helperByToken('t1')).toBeNull();
    expect(access.join('code', { id: 'h2', name: 'Bo', tokenHash: 't2' }, 12)).toBe('unknown-code');
    expect(access.addJoinCode({ ...CODE, hash: 'later' })).toBe(false);
  });
});
