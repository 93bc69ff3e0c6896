import { describe, expect, it } from 'vitest';
import type { Move } from '../../../src/core/finding.js';
import { boardView } from '../../../src/core/views/board.js';
import type { Instruction } from '../../../src/core/views/board-view.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

const reading = (station4: number): Record<string, number> => ({ '2': 0, '3': 0.01, '4': station4, D: 0 });

const moved = (): TryRun => {
  const run = tryRun();
  for (let n = 1; n <= 10; n++) run.check(n, n * 2000, reading(n % 2 === 0 ? 0.01 : -0.01));
  for (let n = 11; n <= 12; n++) run.check(n, n * 2000, reading(0.2));
  return run;
};

const instruction = (run: TryRun): Instruction =>
  boardView(run.state(), Date.parse('2026-11-24T12:00:00Z')).instruction;

const make = (run: TryRun, { station, axis, move_mm }: Move, web_m: number): void => {
  run.put({ type: 'correction', station, axis, move_mm, teeth: 0, divisions: Math.round(move_mm / 0.02), web_m });
};

const obey = (run: TryRun, web_m: number): void => {
  for (const move of instruction(run).moves) make(run, move, web_m);
};

describe('a move that was made', () => {
  it('is not asked for again, at the counter of the check or later; the next sample is', () => {
    for (const after_m of [0, 300]) {
      const run = moved();
      expect(instruction(run).moves).toMatchObject([{ station: '4', turn: 'retard' }]);
      obey(run, 24_000 + after_m);
      const told = instruction(run);
      expect(told.moves).toEqual([]);
      expect(told.caution).toBe('');
      expect(told.why).toBe('No sample printed wholly after the move has been read yet.');
      expect(told.sentence).toMatch(/^SAMPLE from 24 \d07 m on: tells what the turn of 4 grey did; turn nothing/);
      // Station 4 prints at 5.1 m, the sample is taken at 12 m: the carry is 6.9 m.
      expect(told.tells_from_m).toBeCloseTo(24_000 + after_m + 6.9, 9);
    }
  });

  it('is asked for when it did not take', () => {
    const run = moved();
    obey(run, 24_010);
    run.check(13, 26_000, reading(0.2));
    run.check(14, 28_000, reading(0.2));
    expect(instruction(run).moves).toMatchObject([{ station: '4', turn: 'retard' }]);
  });

  it('leaves the others of the same advice to be made', () => {
    const run = tryRun();
    const apart = (across: number) =>
      Object.fromEntries(['2', '3', '4', 'D'].map((id) => [id, [0, id === 'D' ? across : 0] as const]));
    for (let n = 1; n <= 10; n++) run.check(n, n * 2000, apart(0));
    for (let n = 11; n <= 14; n++) run.check(n, n * 2000, apart(0.6));
    const [first, ...others] = instruction(run).moves;
    expect(others.length).toBe(3);
    if (first === undefined) throw new Error('nothing advised');
    make(run, first, 28_000);
    expect(instruction(run).moves).toEqual(others);
    for (const move of others) make(run, move, 28_000);
    expect(instruction(run)).toMatchObject({
      moves: [],
      sentence: expect.stringMatching(/^SAMPLE from 28 \d\d\d m on/),
    });
  });
});
