import { describe, expect, it } from 'vitest';
import { readFault } from '../../src/practice/fault-file.js';
import { wasteOf } from '../../src/practice/waste.js';
import { typed } from './sessions.js';

const FILE = {
  format: 'fault/1',
  name: 'Two at once',
  to_m: 3000,
  causes: [
    { kind: 'slip', station: '3', axis: 'along', at_m: 700, mm: 0.3 },
    { kind: 'creep', station: '2', axis: 'across', from_m: 0, mm_per_km: 0.04 },
  ],
};

const problemOf = (change: object): string => {
  const read = readFault(JSON.stringify({ ...FILE, ...change }), 'mine.json', 1);
  if (read.ok) throw new Error('it was taken');
  return read.problem.message;
};

describe('an instructor’s fault file', () => {
  it('is played as written', () => {
    const read = readFault(JSON.stringify(FILE), 'mine.json', 4);
    if (!read.ok) throw new Error(read.problem.message);
    expect(read.value).toMatchObject({ id: 'file', title: 'Two at once', seed: 4, make_ready: false });
    const { world } = typed(read.value, ['run 1000', 'turn 3 retard 15', 'run 2000']).game;
    // Station 3 stands 6.1 m before the sample place: out from metre 707 to 1 006.
    expect(wasteOf(world).metres).toBe(300);
  });

  it.each([
    ['an unknown key', { cause: [] }, /mine\.json: cause: unknown key, did you mean "causes"\?/],
    ['an unknown kind', { causes: [{ kind: 'slide', station: '3' }] }, /causes\[0\].*"creep", "slip", "tooth"/],
    ['a key missing', { causes: [{ kind: 'slip', station: '3', axis: 'along', at_m: 5 }] }, /causes\[0\]\.mm: missing/],
    [
      'an unknown station',
      { causes: [{ kind: 'slip', station: '9', axis: 'along', at_m: 5, mm: 1 }] },
      /causes\[0\]\.station: found "9", which is not on the practice press; allowed: "1", "2", "3", "4", "D"/,
    ],
    ['after the end', { causes: [{ kind: 'tooth', station: '3', at_m: 3000, teeth: 1 }] }, /at or after the end/],
    ['no teeth', { causes: [{ kind: 'tooth', station: '3', at_m: 30, teeth: 0 }] }, /other than 0/],
    [
      'beyond the knob',
      { causes: [{ kind: 'slip', station: '3', axis: 'across', at_m: 5, mm: 5.1 }] },
      /beyond what the knob of "3" can bring back; allowed: from -5 to 5/,
    ],
    ['the die across', { causes: [{ kind: 'slip', station: 'D', axis: 'across', at_m: 5, mm: 1 }] }, /fixed there/],
    ['a dirty die', { causes: [{ kind: 'dirt', station: 'D', from_m: 5, flaws_per_km: 1 }] }, /no plate/],
    [
      'a misread reference',
      { causes: [{ kind: 'misread', station: '1', axis: 'along', at_m: 5, mm: 1 }] },
      /the reference/,
    ],
    ['out without make-ready', { out: { '3': { along_mm: 1 } } }, /only with "make_ready": true/],
    ['standing without make-ready', { standing: true }, /only with "make_ready": true/],
    ['a number in quotes', { to_m: '3000' }, /to_m: found "3000".*numbers without quotes/],
    ['a splice after the end', { splices_m: [4000] }, /splices_m\[0\]/],
  ])('%s is refused with file, key, what was found, what is allowed', (_name, change, says) => {
    expect(problemOf(change)).toMatch(says);
  });

  it('text that is no JSON is told by line', () => {
    const read = readFault('{"format": "fault/1",\n "name": x}', 'mine.json', 1);
    expect(read.ok ? '' : read.problem.message).toMatch(/mine\.json: line 2/);
  });
});
