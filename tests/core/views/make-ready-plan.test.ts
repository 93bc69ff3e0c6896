import { describe, expect, it } from 'vitest';
import { boardView } from '../../../src/core/views/board.js';
import type { Instruction } from '../../../src/core/views/board-view.js';
import { makeReadyView } from '../../../src/core/views/make-ready-plan.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

const instruction = (run: TryRun): Instruction =>
  boardView(run.state(), Date.parse('2026-11-24T12:00:00Z')).instruction;

const turn = (run: TryRun, station: string, move_mm: number, teeth: number, web_m: number): void => {
  const divisions = Math.round((move_mm - teeth * 3.175) / 0.02);
  run.put({ type: 'correction', station, axis: 'along', move_mm, teeth, divisions, web_m });
};

describe('make-ready on the board', () => {
  it('is one list for the whole press, that stands until all of it is done', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 40, { '2': 6.35, '3': -0.3, '4': 0.01, D: 0 });
    expect(instruction(run)).toMatchObject({
      urgency: 'act',
      sentence: '1 to turn at this stop, 1 running, then one sample.',
      hand: [
        'Retard 2 plum 2 teeth (6.35 mm, print goes back). Leave the knob where it is.',
        'Advance 3 leaf 15 divisions (0.30 mm, print goes ahead): knob clockwise.',
      ],
      after: 'The next sample should read what is turned within 0.05 mm.',
    });
    expect(instruction(run).why).toContain('In, leave alone: 4 grey and die.');
    expect(instruction(run).caution).toMatch(/^Tooth move: press stopped and made safe/);
    turn(run, '2', -6.35, -2, 40);
    expect(makeReadyView(run.state()).lines).toMatchObject([
      { station: '3', done: false },
      { station: '2', done: true, words: '2 plum along: turned.', move: null },
    ]);
    turn(run, '3', 0.3, 0, 41);
    expect(instruction(run)).toMatchObject({
      moves: [],
      sentence: 'All turned. Pull a sample printed after the last move, and key it.',
    });
    run.check(2, 60, { '2': 0.02, '3': -0.01, '4': 0, D: 0.01 });
    expect(instruction(run)).toMatchObject({
      urgency: 'calm',
      sentence: 'Ready: all in. Give OK to run when the sample is right.',
    });
  });

  it('asks for a second label where one reading would cost a turn that may not be needed', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 40, { '2': 0.1, '3': 0, '4': 0, D: 0 });
    expect(instruction(run)).toMatchObject({
      moves: [],
      read_again: ['2'],
      sentence: 'Read 2 plum on a second label of this sample first.',
    });
    run.check(2, 40, { '2': 0.04 });
    expect(instruction(run).sentence).toMatch(/^Ready/);
  });

  it('finds what a knob gives from its first turn: no trial is asked for', () => {
    const knobs = { along: { travel_mm: 5, while_running: true }, across: { travel_mm: 5 } };
    const run = tryRun({ make_ready: true, press: { knobs } });
    run.check(1, 40, { '2': -1, '3': 0, '4': 0, D: 0 });
    expect(instruction(run).moves).toMatchObject([{ station: '2', move_mm: expect.closeTo(1, 5), divisions: null }]);
    run.put({ type: 'correction', station: '2', axis: 'along', move_mm: 1, teeth: 0, divisions: null, web_m: 40 });
    // It gave half of what was meant; so what is left is asked for twice.
    run.check(2, 60, { '2': -0.5, '3': 0, '4': 0, D: 0 });
    const [move] = instruction(run).moves;
    expect(move?.move_mm).toBeGreaterThan(0.9);
    expect(move?.move_mm).toBeLessThan(1.05);
  });

  it('a knob that went the other way is asked for the other way', () => {
    const knobs = { along: { division_mm: 0.02, travel_mm: 5, while_running: true, to_advance: 'clockwise' } };
    const run = tryRun({ make_ready: true, press: { knobs } });
    run.check(1, 40, { '2': -1, '3': 0, '4': 0, D: 0 });
    turn(run, '2', 1, 0, 40);
    run.check(2, 60, { '2': -2, '3': 0, '4': 0, D: 0 });
    const told = instruction(run);
    expect(told.moves).toMatchObject([{ station: '2', turn: 'advance', knob: 'retard', hand: 'anticlockwise' }]);
  });

  it('knobs that go the other way are found out though the reference was turned as well', () => {
    const knobs = { along: { travel_mm: 5 }, across: { travel_mm: 5, while_running: true, to_operator: 'clockwise' } };
    const run = tryRun({ make_ready: true, press: { knobs } });
    run.check(1, 40, { '2': [0, 1], '3': [0, 0.7], '4': [0, 1.5], D: [0, -0.35] });
    for (const [station, move_mm] of [
      ['1', -0.35] as const,
      ['4', -1.85] as const,
      ['3', -1.05] as const,
      ['2', -1.35] as const,
    ])
      run.put({ type: 'correction', station, axis: 'across', move_mm, teeth: 0, divisions: null, web_m: 41 });
    // 3 and 4 went the other way, by three quarters; the reference by half, and 2 as it should. The die was left alone; 2 stands where all go.
    run.check(2, 60, { '2': [0, -0.18], '3': [0, 1.65], '4': [0, 3.05], D: [0, -0.18] });
    const ways = Object.fromEntries(instruction(run).moves.map((m) => [m.station, m.knob === m.turn]));
    expect(ways).toEqual({ '1': true, '3': false, '4': false });
  });

  it('readings calmer than the job says are believed: no third label is asked for', () => {
    const run = tryRun({ make_ready: true, job: { reading: { resolution_mm: 0.01, spread_mm: 0.12 } } });
    run.check(1, 40, { '2': 0.03, '3': 0.02, '4': -0.02, D: 0.01 });
    expect(instruction(run).read_again.length).toBeGreaterThan(0);
    run.check(2, 40, { '2': 0.04, '3': 0.02, '4': -0.03, D: 0 });
    expect(instruction(run).sentence).toMatch(/^Ready: all in\. /);
  });

  it('readings wilder than the job says are no reason to turn, nor to read a label again and again', () => {
    const run = tryRun({ make_ready: true, job: { reading: { resolution_mm: 0.01, spread_mm: 0.01 } } });
    run.check(1, 40, { '2': [0.07, -0.04], '3': [-0.05, 0.03], '4': [0.05, 0.06], D: [0.06, 0] });
    run.check(2, 40, { '2': [-0.06, 0.04], '3': [0.04, -0.05], '4': [-0.05, -0.03], D: [-0.05, 0] });
    expect(instruction(run).sentence).toMatch(/^Ready: all in/);
    run.check(3, 60, { '2': [0.06, 0.02], '3': [0.02, 0.04], '4': [0.01, -0.04], D: [0, 0] });
    expect(instruction(run).sentence).toMatch(/^Ready: all in/);
  });

  it('the list has its sum on top, and of an unmeasured knob what it is to do after the teeth, and its mark where that was found wrong', () => {
    const knobs = { along: { while_running: true }, across: {} };
    const run = tryRun({ make_ready: true, press: { knobs } });
    const todo = (): readonly string[] =>
      boardView(run.state(), Date.parse('2026-11-24T12:00:00Z')).todo.map((one) => `${one.head}${one.tail}`);
    run.check(1, 40, { '2': 1.2, '3': 0, '4': 0, D: 0 });
    expect(todo()).toEqual(['1 to turn, running, then one sample.', 'RETARD 2 plum 1.20 mm']);
    run.put({ type: 'correction', station: '2', axis: 'along', move_mm: -1.2, teeth: 0, divisions: null, web_m: 41 });
    run.check(2, 60, { '2': 2.4, '3': 0, '4': 0, D: 0 });
    expect(todo()).toEqual([
      '1 to turn at this stop, then one sample.',
      expect.stringMatching(
        /^RETARD 2 plum 1 tooth, back 0\.7\d mm by knob \(2\.[34]\d mm\): marked "retard", at a stop$/,
      ),
    ]);
  });

  it('what needs the stop is turned before what is turned running', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 40, { '2': 6.35, '3': [0.3, 0.4], '4': 0, D: 0.9 });
    expect(instruction(run).moves.map((m) => [m.station, m.when])).toEqual([
      ['2', 'stop'],
      ['D', 'stop'],
      ['3', 'running'],
      ['3', 'running'],
    ]);
  });

  it('what was read before a new plate says nothing of it', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 40, { '2': 2, '3': 0, '4': 0, D: 0 });
    run.put({ type: 'plate', station: '2', web_m: 41 });
    expect(instruction(run).sentence).toBe('Make-ready: key one full check.');
    run.check(2, 60, { '2': 0.01, '3': 0, '4': 0, D: 0 });
    expect(instruction(run).sentence).toMatch(/^Ready/);
  });
});
