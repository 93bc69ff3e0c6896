import { describe, expect, test } from 'vitest';
import {
  chanceWords,
  type EventNames,
  eventSentence,
  howSure,
  reachSentence,
  tookSentence,
  type WordedEvent,
} from '../../../src/core/views/event-words.js';

// Wording: own choice; the sentence of the station is the one the project's board sketch shows.

const names: EventNames = {
  register: 'mm',
  length: 'm',
  repeat_mm: 304.8,
  labels: { '1': '1 opaque white', '2': '2 plum', '3': '3 leaf', '4': '4 grey', '5': '5 black', D: 'die' },
  dies: ['D'],
  reference: '1',
};

const drifting: WordedEvent = {
  axis: 'along',
  cause: { kind: 'station', station: '4' },
  severity: 'note',
  shape: 'ramp',
  confidence: 0.7,
  since: { check: 27, web_m: 17_550 },
  moved_mm: 0.09,
  roll: '7',
  open: true,
  how_closed: null,
};

describe('one sentence of a movement', () => {
  test('a station that drifts', () => {
    expect(eventSentence(drifting, names)).toBe('4 grey is drifting ahead: 0.09 mm since roll 7 (17 550 m), likely.');
  });

  test('a step the other way, roll not known, sure, out of tolerance', () => {
    const event: WordedEvent = {
      ...drifting,
      shape: 'step',
      moved_mm: -0.2,
      roll: null,
      confidence: 0.95,
      severity: 'out',
    };
    expect(eventSentence(event, names)).toBe(
      '4 grey has moved behind: 0.20 mm since 17 550 m, sure. OUT of tolerance.',
    );
  });

  test('side to side, in thou and feet', () => {
    const event: WordedEvent = { ...drifting, axis: 'across', moved_mm: 0.0889 };
    expect(eventSentence(event, { ...names, register: 'thou', length: 'ft' })).toBe(
      '4 grey is drifting toward the operator side: 3.5 thou since roll 7 (57 579 ft), likely.',
    );
    expect(eventSentence({ ...event, moved_mm: -0.0889 }, names)).toContain('toward the gear side: 0.09 mm');
  });

  test('64ths are written as a fraction of an inch', () => {
    expect(eventSentence({ ...drifting, moved_mm: (3 / 64) * 25.4 }, { ...names, register: '64ths' })).toContain(
      'ahead: 3/64 in since',
    );
  });

  test('the reference: the others are left alone', () => {
    const event: WordedEvent = { ...drifting, cause: { kind: 'reference' }, shape: 'step', moved_mm: -0.08 };
    expect(eventSentence(event, names)).toBe(
      '1 opaque white (the reference) has moved behind: 0.08 mm since roll 7 (17 550 m), likely. All the others read off the opposite way; leave them alone.',
    );
  });

  test('the web: in proportion to distance, for each metre of path', () => {
    const event: WordedEvent = { ...drifting, cause: { kind: 'web' }, moved_mm: -0.012 };
    expect(eventSentence(event, names)).toBe(
      'The web has stretched or shifted: stations read off in proportion to distance, 0.012 mm behind for each metre of path after the reference, since roll 7 (17 550 m), likely.',
    );
  });

  test('the die: its cut', () => {
    expect(eventSentence({ ...drifting, cause: { kind: 'station', station: 'D' }, shape: 'step' }, names)).toMatch(
      /^The cut of the die has moved ahead/,
    );
  });

  test('several, and a pair that traps', () => {
    const event: WordedEvent = {
      ...drifting,
      cause: { kind: 'several', stations: ['3', '5'] },
      shape: 'step',
      confidence: 0.4,
    };
    expect(eventSentence(event, names)).toBe(
      '3 leaf and 5 black have moved along the web, not all alike: up to 0.09 mm since roll 7 (17 550 m), not sure: read again.',
    );
    expect(eventSentence({ ...event, pair: ['2', '3'], severity: 'out' }, names)).toMatch(
      / 2 plum and 3 leaf, which trap one another, are further apart than they may be\.$/,
    );
  });

  test('a closed one is told in the past, with how it ended', () => {
    const closed: WordedEvent = { ...drifting, open: false, how_closed: 'corrected', severity: 'out' };
    expect(eventSentence(closed, names)).toBe(
      '4 grey drifted ahead: 0.09 mm since roll 7 (17 550 m). It was corrected.',
    );
    expect(eventSentence({ ...closed, how_closed: 'withdrawn' }, names)).toContain(
      'the reading behind it was withdrawn',
    );
  });

  test('a station that has no label is still named', () => {
    expect(eventSentence({ ...drifting, cause: { kind: 'station', station: '9' } }, names)).toMatch(
      /^Station 9 is drifting/,
    );
  });
});

test('how sure, at the bounds', () => {
  expect([1, 0.9, 0.899, 0.6, 0.599, 0].map(howSure)).toEqual([
    'sure',
    'sure',
    'likely',
    'likely',
    'not sure: read again',
    'not sure: read again',
  ]);
});

test('chances are said without per cent', () => {
  expect([0.99, 0.7, 0.5, 0.18, 0.05, 0.01].map(chanceWords)).toEqual([
    'almost certain',
    'likely, about 7 in 10',
    'as likely as not',
    'about 1 in 6',
    'about 1 in 20',
    'very small',
  ]);
});

test('where the limit is reached, also without an upper end', () => {
  expect(reachSentence({ likely_m: 24_100, early_m: 22_300, late_m: null }, names)).toBe(
    'Out of tolerance at about 24 100 m if left alone; at the earliest 22 300 m, perhaps never.',
  );
  expect(reachSentence({ likely_m: 24_100, early_m: 22_300, late_m: 30_000 }, names)).toContain(
    'at the latest 30 000 m',
  );
  expect(reachSentence(null, names)).toBe('');
});

test('what a turn did', () => {
  const found = {
    type: 'correction',
    event: 1,
    took: false,
    station: '4',
    axis: 'along',
    asked_mm: -0.06,
    got_mm: 0.01,
  } as const;
  expect(tookSentence(found, names)).toBe('Turned 0.06 mm behind, the print moved 0.01 mm ahead: it did NOT take.');
});
