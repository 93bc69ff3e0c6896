import { describe, expect, it } from 'vitest';
import { boardView } from '../../../src/core/views/board.js';
import { farWords } from '../../../src/ui/draw/far.js';
import { drawMiddle } from '../../../src/ui/draw/instruction.js';
import { plainText } from '../../../src/ui/draw/row.js';
import { keyedCheck, reading } from '../../support/reading.js';
import { type TryRun, tryRun } from '../../support/try-run.js';
import { look } from '../../ui/frame-of.js';

const AT = Date.parse('2026-11-24T12:00:00Z');
const along = (over: Record<string, number> = {}) => ({ '2': 0, '3': 0.01, '4': 0, D: 0, ...over });
const steady = (n = 10): TryRun => {
  const run = tryRun();
  for (let i = 1; i <= n; i++) run.check(i, i * 2000, along({ '4': i % 2 === 0 ? 0.01 : -0.01 }));
  return run;
};
const board = (run: TryRun) => boardView(run.state(), AT);
const kinds = (run: TryRun) => board(run).todo.map((one) => one.kind);

const withPlate = (run: TryRun, n: number, web_m: number, over: Record<string, number>, plates: object): void => {
  run.put(
    keyedCheck(
      n,
      web_m,
      Object.entries(along(over)).map(([id, mm]) =>
        reading(id, { along_mm: mm, across_mm: 0, ...((plates as Record<string, object>)[id] ?? {}) }),
      ),
    ),
  );
};

describe('the list of what to do', () => {
  it('holds register, plates and holds together, worst first, and the large letters say its first line with the amount', () => {
    const run = steady();
    for (const n of [11, 12])
      withPlate(run, n, n * 2000, { '4': 0.25 }, { '3': { plate: 'dirty', flaws: 17, labels: 40 } });
    const view = board(run);
    expect(kinds(run)).toEqual(expect.arrayContaining(['turn', 'wash', 'hold']));
    expect(view.todo[0]).toMatchObject({ kind: 'turn', urgency: 'out', station: '4' });
    expect(view.todo[0]?.head).toMatch(/^RETARD 4 grey \d+ divisions \(0\.\d\d mm\)$/);
    expect(view.todo.findIndex((one) => one.kind === 'wash')).toBe(1);
    expect(view.todo[1]?.head).toBe('WASH 3 leaf: plate dirty 17/40');
    expect(farWords(view)).toMatch(/^OUT: RETARD 4 grey \d+ divisions \+ wash 3 leaf/);
  });

  it('a dirty plate alone is the first line and the large letters', () => {
    const run = steady();
    withPlate(run, 11, 22_000, {}, { '3': { plate: 'dirty', flaws: 20, labels: 40 } });
    expect(board(run).todo[0]?.kind).toBe('wash');
    expect(farWords(board(run))).toBe('wash 3 leaf');
  });

  it('a plate seen building is not "all holding"', () => {
    const run = steady();
    withPlate(run, 11, 22_000, {}, { '3': { plate: 'building', flaws: 10, labels: 40 } });
    expect(board(run).instruction.sentence).not.toContain('All holding');
    expect(
      board(run)
        .todo.map((one) => one.head)
        .join(),
    ).toContain('3 leaf at the next check: building 10/40');
    expect(farWords(board(run))).toMatch(/^WATCH/);
  });

  it('two movements are two lines; what was turned is ticked off and the other stays', () => {
    const run = steady();
    for (const n of [11, 12, 13])
      run.check(n, n * 2000, { ...along({ '4': 0.3 }), '2': [0, 0.25], '3': [0.01, 0], D: [0, 0] });
    const turns = board(run).todo.filter((one) => one.kind === 'turn');
    const stations = turns.map((one) => `${one.station} ${one.move?.axis}`);
    expect(stations).toEqual(expect.arrayContaining(['4 along', '2 across']));
    expect(board(run).instruction.moves.length).toBe(turns.length);
    const first = turns.find((one) => one.station === '4')?.move;
    if (first === undefined || first === null) throw new Error('nothing to turn');
    run.put({
      type: 'correction',
      station: '4',
      axis: 'along',
      move_mm: first.move_mm,
      teeth: 0,
      divisions: Math.round(first.move_mm / 0.02),
      web_m: 26_010,
    });
    const left = board(run).todo;
    expect(left.filter((one) => one.kind === 'turn').map((one) => one.station)).toEqual(['2']);
    expect(left.some((one) => one.kind === 'sample')).toBe(true);
  });

  it('an overdue check is a line, whatever else there is', () => {
    const run = tryRun({ job: { checks: { every_roll: false, every_m: 1000 } } });
    for (let n = 1; n <= 4; n++) run.check(n, n * 1000, along());
    run.put({ type: 'position', web_m: 5_250 });
    expect(board(run).todo.map((one) => one.head)).toContain('CHECK OVERDUE by 250 m');
    expect(farWords(board(run))).toBe('check overdue');
  });

  it('the cure of a web that moved stands whole at 80 columns', () => {
    const run = steady();
    const web = { '2': -0.06, '3': -0.11, '4': -0.18, D: -0.35 };
    for (const n of [11, 12, 13]) run.check(n, n * 2000, web);
    const text = drawMiddle(board(run), 80, 5, look).map(plainText).join('\n');
    expect(board(run).events[0]?.cause.kind).toBe('web');
    expect(text).toMatch(/LOOK TO TENSION, DRYER, STOCK; turn no knob|RETARD|ADVANCE/);
  });

  it('a full check is due after a new plate or die, until it was read', () => {
    const run = steady();
    run.put({ type: 'plate', station: '3', web_m: 20_500 });
    expect(board(run).next_check).toMatchObject({ why: 'new plate on 3 leaf', asked: true });
    expect(board(run).todo[0]?.head).toBe('FULL CHECK DUE: new plate on 3 leaf');
    run.check(11, 22_000, along());
    expect(board(run).next_check?.asked).toBeUndefined();
  });

  it('after a correction of something out the next check is the sample from its counter on', () => {
    const run = steady();
    for (const n of [11, 12]) run.check(n, n * 2000, along({ '4': 0.25 }));
    const move = board(run).instruction.moves[0];
    if (move === undefined) throw new Error('nothing to turn');
    run.put({
      type: 'correction',
      station: '4',
      axis: 'along',
      move_mm: move.move_mm,
      teeth: 0,
      divisions: Math.round(move.move_mm / 0.02),
      web_m: 24_010,
    });
    // Station 4 prints at 5.1 m, the sample is taken at 12 m.
    expect(board(run).next_check?.why).toBe('the sample from 24 017 m on');
    expect(board(run).todo[0]?.head).toBe('SAMPLE from 24 017 m on');
  });
});

describe('a turn that was not advised is part of what is known', () => {
  it("the reference turned on one's own: the advice from before it is not given again", () => {
    const run = steady();
    for (const n of [11, 12]) run.check(n, n * 2000, { '2': 0.2, '3': 0.2, '4': 0.2, D: 0.2 });
    expect(board(run).instruction.moves.length).toBeGreaterThan(0);
    run.put({
      type: 'correction',
      station: '1',
      axis: 'along',
      move_mm: 0.2,
      teeth: 0,
      divisions: 10,
      web_m: 24_010,
    });
    expect(board(run).instruction.moves).toEqual([]);
    expect(board(run).todo[0]?.head).toMatch(/^SAMPLE from 24 0\d\d m on/);
    expect(board(run).events[0]?.done[0]).toContain('1 opaque white advanced 10 divisions');
    for (const n of [13, 14, 15]) run.check(n, n * 2000, { '2': 0, '3': 0, '4': 0, D: 0 });
    expect(board(run).events[0]?.sentence).not.toContain('came back by itself');
  });

  it("a station turned on one's own after advice to turn the reference: neither is obeyed twice", () => {
    const run = steady();
    for (const n of [11, 12]) run.check(n, n * 2000, along({ '4': 0.25 }));
    run.put({
      type: 'correction',
      station: '1',
      axis: 'along',
      move_mm: 0.1,
      teeth: 0,
      divisions: 5,
      web_m: 24_010,
    });
    expect(board(run).instruction.moves).toEqual([]);
  });
});
