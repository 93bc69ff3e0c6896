import { describe, expect, test } from 'vitest';
import { type Signing, signRecords } from '../../src/core/views/sign-records.js';
import { crossCheck, outgoingQuestions, signSheet } from '../../src/report/sign-questions.js';
import { busyShift, nothingRecorded, quietShift, SHIFTS } from './shifts.js';

const signing: Signing = {
  outgoing: 'Ada K.',
  answers: outgoingQuestions(busyShift).map((question, index) => ({
    question,
    answer: index === 0 ? ' Guard switch sticks. ' : '',
  })),
  incoming: {
    name: 'Cleo M.',
    ticked: [true, true, true, false],
    reread: { station: '2', along_mm: 0.09, across_mm: null },
  },
};

describe('signing a handover', () => {
  test('at most five questions, of open movements and holds only when there are any', () => {
    for (const view of Object.values(SHIFTS)) expect(outgoingQuestions(view).length).toBeLessThanOrEqual(5);
    expect(outgoingQuestions(quietShift).map(({ about }) => about)).toEqual([
      'Safety and maintenance',
      'Agreed for now',
      'Watch first',
    ]);
    expect(
      outgoingQuestions(busyShift)
        .map(({ ask }) => ask)
        .join(' '),
    ).toContain('rolls 7, 8 and 11');
  });

  test('the incoming operator reads back every open point and re-reads one station', () => {
    const check = crossCheck(busyShift);
    expect(check.points.length).toBe(4);
    expect(check.points[0]).toMatch(/^1 opaque white \(the reference\) has moved behind/);
    expect(check.reread).toEqual({ station: '2', label: '2 plum', why: 'open movement 3' });
    expect(crossCheck(nothingRecorded).points).toEqual([
      'No movement is open.',
      'No product is on hold.',
      'Nothing is abnormal or temporary.',
    ]);
  });

  test('all of it records: a note an answer, the re-reading as a check, the shift change with what was not ticked', () => {
    const records = signRecords(signSheet(busyShift), busyShift.board, signing);
    if (!records.ok) throw new Error(records.problem.message);
    expect(records.value.map(({ by, body }) => [by, body.type])).toEqual([
      ['Ada K.', 'note'],
      ['Cleo M.', 'shift'],
      ['Cleo M.', 'check'],
    ]);
    expect(records.value[0]?.body).toEqual({
      type: 'note',
      web_m: 21_450,
      text: 'Safety and maintenance: Guard switch sticks.',
    });
    expect(records.value[2]?.body).toMatchObject({
      check: 32,
      source: 'keyed',
      readings: [{ station: '2', along_mm: 0.09, across_mm: null }],
    });
    const points = crossCheck(busyShift).points;
    expect(records.value[1]?.body).toMatchObject({
      outgoing: 'Ada K.',
      incoming: 'Cleo M.',
      points: points.map((text, i) => ({ text, read_back: i < 3 })),
    });
    expect(records.value[1]?.body).toHaveProperty(
      'note',
      'Read back 3 of 4 points; NOT read back: Knob of 4 grey has 0.40 mm travel left toward behind. 2 plum read again: along +0.09, across not read (mm).',
    );
  });

  test('a shift may end with nobody taking over', () => {
    const records = signRecords(signSheet(quietShift), quietShift.board, {
      outgoing: 'Ada K.',
      answers: [],
      incoming: null,
    });
    expect(records).toEqual({
      ok: true,
      value: [{ by: 'Ada K.', body: { type: 'shift', web_m: 21_450, outgoing: 'Ada K.', incoming: null, note: null } }],
    });
  });

  test('a missing name, or the same person on both sides, records nothing and says why', () => {
    for (const wrong of [
      { ...signing, outgoing: ' ' },
      { ...signing, incoming: { name: '', ticked: [], reread: null } },
      { ...signing, incoming: { name: 'ada k.', ticked: [], reread: null } },
    ]) {
      const records = signRecords(signSheet(busyShift), busyShift.board, wrong);
      expect(records.ok).toBe(false);
      expect(records.ok ? '' : records.problem.message).toContain('nothing was recorded');
    }
  });
});
