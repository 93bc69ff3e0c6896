import { describe, expect, test } from 'vitest';
import { type People, readPeople, releaseRefusal } from '../../src/core/people.js';

const people: People = [
  { initials: 'QM', name: 'Quirin Maier', may_release: true },
  { initials: 'JB', name: 'Jana Berg', may_release: true },
  { initials: 'MK', name: 'Mia Kern' },
];

describe('who may release', () => {
  test.each([
    ['QM', 'Q.M.'],
    ['qm', ' Q M '],
    ['J.-B.', 'jb'],
  ])('without a list "%s" and "%s" are one person', (a, b) =>
    expect(releaseRefusal(a, b, null)).toMatch(/are one person/),
  );
  test.each(['program', 'Sensor', 'operator', ' . '])('"%s" never releases', (nobody) => {
    expect(releaseRefusal(nobody, 'JB', null)).toMatch(/is no person/);
    expect(releaseRefusal('JB', nobody, null)).toMatch(/is no person/);
  });
  test('two do', () => expect(releaseRefusal('QM', 'JB', null)).toBeNull());
  test('with a list, those who may, by initials or by name', () => {
    expect(releaseRefusal('q.m.', 'Jana Berg', people)).toBeNull();
    expect(releaseRefusal('QM', 'quirin maier', people)).toMatch(/are one person/);
    expect(releaseRefusal('QM', 'MK', people)).toMatch(/Mia Kern may not release/);
    expect(releaseRefusal('QM', 'XX', people)).toMatch(/"XX" is not in people.json/);
  });
  test('a list in which two cannot be told apart, or that is no list, is refused', () => {
    const file = (list: object[]): string => JSON.stringify({ format: 'people/1', people: list });
    expect(readPeople(file([...people]), 'people.json')).toMatchObject({ ok: true });
    const twice = readPeople(file([...people, { initials: 'q.m', name: 'Qian Ma' }]), 'people.json');
    expect(twice.ok ? '' : twice.problem.message).toMatch(/Quirin Maier and Qian Ma cannot be told apart/);
    expect(readPeople('{', 'people.json').ok).toBe(false);
    expect(readPeople(file([{ initials: 'A' }]), 'people.json').ok).toBe(false);
  });
});
