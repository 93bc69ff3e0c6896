import { describe, expect, it } from 'vitest';
import type { Exercise } from '../../src/practice/exercise.js';
import { LESSONS } from '../../src/practice/exercises.js';
import { hintOf } from '../../src/practice/hint.js';
import { orderWords } from '../../src/practice/order.js';
import { yardsticks } from '../../src/practice/score.js';
import { beginSession, step } from '../../src/practice/session.js';
import { truthOf } from '../../src/practice/truth.js';
import { practiceView } from '../../src/practice/view.js';
import { plainText } from '../../src/ui/draw/row.js';
import { practiceFrame } from '../../src/ui/practice/practice-frame.js';
import { checks, exerciseOf, lastSaid, typed } from './sessions.js';

const LOOK = { ascii: false, color: false, decimal: '.' } as const;

describe('a student', () => {
  it('reads, keys and is not shown numbers of a label not read', () => {
    let session = beginSession(exerciseOf('1'), 'drawn', true);
    session = step(session, 'pull');
    expect(practiceView(session).stations.map((s) => s.along)).toEqual(['reference', '-', '-', '-', '-']);
    session = step(session, 'read 40a 0');
    expect(session.looking).toBe('3');
    session = step(step(step(session, 'read 0 35g'), 'read 62b 5o'), 'read 0 -');
    session = step(session, 'key');
    expect(session.game.state.judged.read['2']?.along.mm).toBe(0.4);
    expect(session.game.state.judged.read.D?.across.mm).toBe(null);
    expect(lastSaid(step(session, 'key'))).toMatch(/keyed already/);
    expect(lastSaid(step(session, 'ok'))).toMatch(/not read yet: die/);
  });

  it('OK to run is refused on a sample that is out by the student’s own check', () => {
    expect(lastSaid(typed(exerciseOf('1'), ['pull', '!ok']))).toMatch(/these are out: 2 plum along 0\.40 AHEAD/);
  });

  it('is never told the order of make-ready, only the rule', () => {
    const hint = hintOf(typed(exerciseOf('6'), ['on', 'start', 'wait', 'pull'])).join(' ');
    expect(hint).toMatch(/AHEAD is retarded/);
    expect(hint).toMatch(/The order is yours/);
    expect(hint).not.toMatch(/first the reference|farthest/);
  });

  it('hints off says nothing', () => {
    const session = step(beginSession(exerciseOf('2'), 'numbers', false), 'pull');
    expect(practiceView(session).hint).toEqual([]);
  });

  it('a pause holds the game’s clock; the same lines end in the same game', () => {
    const lines = ['next', 'pull', 'name 3 along', 'again', 'run 20'];
    expect(typed(exerciseOf('5', 3), lines)).toEqual(typed(exerciseOf('5', 3), lines));
    expect(typed(exerciseOf('2'), ['pause']).paused).toBe(true);
  });
});

describe('the truth afterwards', () => {
  it('says what moved and when, when it could be seen, and what each did', () => {
    const exercise = exerciseOf('5');
    const session = typed(exercise, [
      ...checks(5),
      'name 4 across',
      'name 2 along',
      'turn 4 operator 7',
      ...checks(4),
      'run 500',
    ]);
    const truth = truthOf(session.game, yardsticks(exercise), session.refusals);
    expect(truth.points).toBe(100);
    expect(truth.told.map((t) => t.what)).toEqual([
      'On the first sample from 900 m on one mark of 2 plum was a bad one: it read 0.26 mm ahead off, and nothing had moved.',
      'At 2180 m the plate of 4 black slipped 0.3 mm toward the operator side.',
    ]);
    expect(truth.told[1]?.seen).toMatch(
      /^Check 5 at 2500 m was the first of yours that could show it\. The program called it at check 5/,
    );
    expect(truth.told[1]?.you).toBe(
      '4 black moved 0.35 mm toward the gear side at 2530 m, of which the print took 0.3 mm toward the gear side',
    );
    expect(truth.told[0]?.best).toBe('left alone, rightly');
    expect(truth.named).toEqual(['At 2530 m you said "4 across": right.', 'At 2530 m you said "2 along": not so.']);
  });

  const orderOf = (exercise: Exercise, lines: readonly string[]): string =>
    truthOf(typed(exercise, lines).game, yardsticks(exercise), 0).order.join(' ');

  it('weighs the order: the reference a sample after the rest put them out again', () => {
    const order = orderOf(exerciseOf('6'), [
      'on',
      'start',
      'wait',
      'pull',
      'turn 2 gear 5',
      'wait',
      'pull',
      'turn 1 gear 11',
      'turn 2 gear 11',
    ]);
    expect(order).toMatch(/Across: 2 plum was turned a sample before the reference/);
    expect(order).toMatch(/2 plum was turned more than once/);
    expect(order).not.toMatch(/the reference to the farthest/);
  });

  it('what is turned after the same sample may be turned in any order, the reference last', () => {
    const order = orderOf(exerciseOf('6'), ['on', 'start', 'wait', 'pull', 'turn 2 gear 5', 'turn 1 gear 11']);
    expect(order).not.toMatch(/before the reference/);
  });

  it('a reference turned for nothing, and what was left for a later sample, are said', () => {
    const order = orderOf(exerciseOf('1'), ['pull', 'turn 1 retard 10', 'wait', 'pull', 'turn 4 advance 31']);
    expect(order).toMatch(/Along: the reference was turned, and nothing that cannot be moved called for it/);
    expect(order).toMatch(/4 black along was off from the first sample and turned only after a later one/);
  });

  it('the plan of the board, obeyed in exercises 1 and 6, is found sound', () => {
    for (const id of ['1', '6']) {
      const exercise = exerciseOf(id);
      const { advised } = yardsticks(exercise);
      expect(orderWords(advised.world)).toEqual([expect.stringMatching(/^The order was sound/)]);
    }
  });
});

describe('the screen', () => {
  const frame = (session: Parameters<typeof practiceView>[0], columns = 80, rows = 24) =>
    practiceFrame(practiceView(session), '', columns, rows, LOOK).map(plainText);
  it.each(LESSONS.map((l) => l.id))(
    'exercise %s: PRACTICE on every screen, nothing over the edge, the whole task and hint in sight',
    (id) => {
      let session = beginSession(exerciseOf(id), 'drawn', true);
      for (const line of [
        '',
        'on',
        'start',
        'wait',
        'pull',
        'help',
        'press',
        'read 10a 0',
        'stop',
        'turn 3 retard 1t',
      ]) {
        if (line !== '') session = step(session, line);
        for (const [columns, rows] of [
          [80, 24],
          [120, 40],
        ] as const) {
          const lines = frame(session, columns, rows);
          expect(lines.length).toBe(rows);
          expect(lines[0]).toMatch(/PRACTICE/);
          expect(Math.max(...lines.map((l) => l.length))).toBeLessThanOrEqual(columns);
          const { page, hint: beside } = practiceView(session);
          const shown = lines
            .map((l) => (page === null ? l.slice(35) : l))
            .join(' ')
            .replace(/[^A-Za-z0-9]+/g, '');
          const hint = page ?? beside;
          const last =
            hint
              .at(-1)
              ?.replace(/[^A-Za-z0-9]+/g, '')
              .slice(-12) ?? '';
          expect(shown, `${line} at ${columns}`).toContain(last);
        }
      }
    },
  );
  it('too small a terminal still says PRACTICE and what is needed', () => {
    const lines = frame(beginSession(exerciseOf('1'), 'drawn', true), 60, 15);
    expect(lines.join('\n')).toMatch(/PRACTICE[\s\S]*needs 80 by 24/);
  });
});
