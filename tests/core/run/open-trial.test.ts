import { describe, expect, it } from 'vitest';
import type { Correction, RecordBody } from '../../../src/core/record.js';
import { recordBodySchema } from '../../../src/core/record-schema.js';
import { admit } from '../../../src/core/run/admit.js';
import { knobOf } from '../../../src/core/run/knob-of.js';
import { openTrial } from '../../../src/core/run/open-trial.js';
import type { RunState } from '../../../src/core/run/state.js';
import { stationsOf } from '../../../src/core/run/stations.js';
import { boardView } from '../../../src/core/views/board.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

/** The press of the tests without any knob measured. */
const UNMEASURED = { knobs: { along: { to_advance: 'clockwise' }, across: {} } };

const turn = (divisions: number, web_m: number): Correction => ({
  type: 'correction',
  station: '3',
  axis: 'along',
  move_mm: divisions * 0.02,
  teeth: 0,
  divisions,
  web_m,
  trial: true,
});

/** The same turn, made for no trial. */
const plain = ({ trial: _trial, ...move }: Correction): Correction => move;

const measuredAs = (over: Partial<Extract<RecordBody, { type: 'knob' }>> = {}): RecordBody => ({
  type: 'knob',
  station: '3',
  axis: 'along',
  division_mm: 0.03,
  sense: 1,
  divisions: 10,
  before_check: 1,
  after_check: 2,
  web_m: 1010,
  ...over,
});

const knob = (run: TryRun) => {
  const state = run.state();
  const station = stationsOf(state.press, state.job).find((s) => s.id === '3');
  if (station === undefined) throw new Error('no station 3');
  return knobOf(state.judged, station, 'along');
};

/** Read at 1000 m, turned ten divisions at 1010 m, read again off a sample pulled at `again_m`. */
const tried = (after: number, again_m: number, options: Parameters<typeof tryRun>[0] = {}): TryRun => {
  const run = tryRun({ press: UNMEASURED, ...options });
  run.check(1, 1000, { '2': 0, '3': 0.01, '4': 0, D: 0 });
  run.put(turn(10, 1010));
  run.check(2, again_m, { '2': 0, '3': after, '4': 0, D: 0 });
  return run;
};

/** What the board puts on record when the trial is concluded. */
const concluded = (run: TryRun, over: Partial<Extract<RecordBody, { type: 'knob' }>> = {}): void => {
  const trial = openTrial(run.state());
  run.put(measuredAs(over));
  run.put({ type: 'withdraw', check: null, entry: trial?.turns[0]?.entry ?? 0, web_m: null });
  const move_mm = 10 * (over.sense ?? 1) * (over.division_mm ?? 0.03);
  run.put({
    type: 'correction',
    station: '3',
    axis: 'along',
    move_mm,
    teeth: 0,
    divisions: 10 * (over.sense ?? 1),
    web_m: 1010,
  });
};

const lastMoves = (run: TryRun) =>
  run.state().judged.movements.findLast((m) => m.closed === null)?.advice?.moves ?? null;

const sentence = (state: RunState): string => boardView(state, Date.parse('2026-11-24T12:00:00Z')).instruction.sentence;

describe('a knob that is being measured', () => {
  // Station 3 stands 3.9 m from the unwind and samples are taken at 12 m: a sample shows the turn wholly once 12 − 3.9 = 8.1 m have run.
  it('is measured from a sample printed wholly after the turn, and from no other', () => {
    const early = openTrial(tried(0.3, 1018).state());
    expect(early).toMatchObject({ tells_from_m: 1018.1, after: [], result: null, before: { check: 1, mm: 0.01 } });
    const told = openTrial(tried(0.31, 1018.1).state());
    expect(told).toMatchObject({ station: '3', axis: 'along', divisions: 10, after: [{ check: 2, mm: 0.31 }] });
    // (0.31 − 0.01) ÷ 10
    expect(told?.result).toMatchObject({ kind: 'measured', sense: 1 });
    expect(told?.result?.kind === 'measured' ? told.result.division_mm : 0).toBeCloseTo(0.03, 9);
  });

  it('tells nothing any more once OK is given again against other aims; against the same it goes on', () => {
    const ok = (hold_to: 'aim' | 'sample', web_m: number): RecordBody => ({
      type: 'ok',
      web_m,
      zero_m: null,
      passed_by: 'JK',
      check: null,
      hold_to,
    });
    const held = tried(0.31, 1030);
    held.put(ok('sample', 1040));
    expect(openTrial(held.state())).toBeNull();
    held.check(3, 1100, { '3': 0.3 });
    held.put(turn(10, 1110));
    expect(openTrial(held.state())).not.toBeNull();
    held.put(ok('aim', 1120));
    expect(openTrial(held.state())).toBeNull();
    const same = tried(0.31, 1030);
    same.put(ok('aim', 1040));
    expect(openTrial(same.state())).not.toBeNull();
  });

  it('in make-ready too', () => {
    const run = tried(-0.29, 1030, { make_ready: true });
    expect(openTrial(run.state())?.result).toMatchObject({ kind: 'measured', sense: -1 });
    expect(sentence(run.state())).toBe('Record what the turn of 3 leaf says of its knob (d on the board).');
  });

  it('says so when the print did not move by more than readings scatter, and goes by both turns when it is turned further', () => {
    const run = tried(0.03, 1030);
    expect(openTrial(run.state())?.result).toMatchObject({ kind: 'not enough' });
    run.put(turn(20, 1040));
    expect(openTrial(run.state())).toMatchObject({ divisions: 30, result: null, before: { check: 1 } });
    run.check(3, 1060, { '2': 0, '3': 0.61, '4': 0, D: 0 });
    const { result } = openTrial(run.state()) ?? {};
    expect(result?.kind === 'measured' ? result.division_mm : 0).toBeCloseTo(0.02, 9);
  });

  it('tells the next step in place of what the turn itself put off, but not in place of anything else', () => {
    const run = tryRun({ press: UNMEASURED });
    run.check(1, 1000, { '2': 0, '3': 0.01, '4': 0, D: 0 });
    run.put(turn(10, 1010));
    expect(sentence(run.state())).toBe('Pull a sample from 1 018 m on and read 3 leaf along.');
    run.check(2, 1030, { '2': 0, '3': 0.31, '4': 0, D: 0 });
    expect(sentence(run.state())).toBe('Record what the turn of 3 leaf says of its knob (d on the board).');
    run.check(3, 1060, { '2': 0, '3': 0.31, '4': 0.3, D: 0 });
    expect(sentence(run.state())).not.toContain('its knob');
  });

  it.each<readonly [string, RecordBody]>([
    ['the knob was turned otherwise', plain(turn(5, 1012))],
    ['the reference was turned', { ...plain(turn(5, 1012)), station: '1' }],
    ['another plate came', { type: 'plate', station: '3', web_m: 1012 }],
    ['another reference came', { type: 'reference', station: '2', web_m: 1012 }],
  ])('tells nothing any more when %s in between', (_why, between) => {
    const run = tryRun({ press: UNMEASURED });
    run.check(1, 1000, { '2': 0, '3': 0.01, '4': 0, D: 0 });
    run.put(turn(10, 1010));
    run.put(between);
    run.check(2, 1030, { '2': 0, '3': 0.31, '4': 0, D: 0 });
    expect(openTrial(run.state())).toBeNull();
  });
});

describe('a knob that is not measured', () => {
  it('is offered to be in make-ready, once its station was read; not where the press file has it, nor in the run', () => {
    const why = (run: TryRun): string => boardView(run.state(), 0).instruction.why;
    const run = tryRun({ press: UNMEASURED, make_ready: true });
    expect(why(run)).not.toContain('measures it');
    run.check(1, 1000, { '3': [0.01, 0] });
    expect(why(run)).toContain('The knob of 3 leaf is not measured along: d on the board measures it.');
    const measured = tryRun({ make_ready: true });
    measured.check(1, 1000, { '3': [0.01, 0] });
    expect(why(measured)).not.toContain('measures it');
    const running = tryRun({ press: UNMEASURED });
    running.check(1, 1000, { '3': [0.01, 0] });
    expect(why(running)).not.toContain('measures it');
  });
});

describe('a knob that was measured', () => {
  it('has that division and sense from there on, in the advice too, and the turn is taken for no movement', () => {
    const run = tried(0.31, 1030);
    concluded(run);
    expect(knob(run)).toMatchObject({ division_mm: 0.03, sense: 1, sense_given: true, hand_plus: 'clockwise' });
    expect(openTrial(run.state())).toBeNull();
    // Judged as if the knob had been known from the start and the turn recorded as any other: a fact where it is out, nothing more.
    const known = tryRun({
      press: { knobs: { along: { division_mm: 0.03, sense: 1, to_advance: 'clockwise' }, across: {} } },
    });
    known.check(1, 1000, { '2': 0, '3': 0.01, '4': 0, D: 0 });
    known.put({ ...plain(turn(10, 1010)), move_mm: 0.3 });
    known.check(2, 1030, { '2': 0, '3': 0.31, '4': 0, D: 0 });
    const judged = (of: TryRun) =>
      of.state().judged.movements.map(({ key: _key, opened: _opened, ...m }) => ({ ...m, waiting: null, seen: null }));
    expect(judged(run)).toEqual(judged(known));
    // It goes back as it came: ten divisions.
    run.check(3, 1060, { '2': 0, '3': 0.31, '4': 0, D: 0 });
    expect(lastMoves(run)).toMatchObject([{ station: '3', turn: 'retard', divisions: 10 }]);
  });

  it('mark and hand are turned about where its mark says the opposite', () => {
    const run = tried(-0.29, 1030);
    concluded(run, { sense: -1 });
    expect(knob(run)).toMatchObject({ division_mm: 0.03, sense: -1, hand_plus: 'anticlockwise' });
    run.check(3, 1060, { '2': 0, '3': -0.29, '4': 0, D: 0 });
    expect(lastMoves(run)).toMatchObject([{ turn: 'advance', knob: 'retard', divisions: 10 }]);
  });

  it('can be taken back: then it is not measured, as before', () => {
    const run = tried(0.31, 1030);
    concluded(run);
    const act = run.state().acts.find((a) => a.record.type === 'knob');
    run.put({ type: 'withdraw', check: null, entry: act?.seq ?? 0, web_m: null });
    expect(knob(run).division_mm).toBeNull();
  });

  it('stands the same when the log is judged from its first record again, and through JSON', () => {
    const run = tried(0.31, 1030);
    concluded(run);
    expect(JSON.parse(JSON.stringify(run.state().judged.measured_knobs))).toEqual({
      '3': { along: { division_mm: 0.03, sense: 1 } },
    });
    for (const { v, seq, at, by, ...body } of run.records.slice(1))
      expect(recordBodySchema.safeParse(body).success, `${v} ${seq} ${at} ${by} ${body.type}`).toBe(true);
  });

  it.each([
    [{ station: '9' }, 'is not in the job'],
    [{ station: 'D', axis: 'across' }, 'is fixed there'],
    [{ division_mm: 0 }, 'more than 0 mm'],
    [{ division_mm: 11 }, 'at most 10 mm'],
    [{ divisions: 0 }, 'how many divisions'],
    [{ after_check: 1 }, 'between two checks'],
    [{ after_check: 7 }, 'between two checks'],
  ] as const)('is refused with %j', (over, why) => {
    const run = tried(0.31, 1030);
    const answer = admit(run.state(), measuredAs(over));
    expect(answer.ok ? '' : answer.problem.message).toContain(why);
  });

  it('is told as it was turned', () => {
    const run = tried(0.31, 1030);
    concluded(run);
    const words = boardView(run.state(), 0).acts.map((a) => a.words);
    expect(words).toContain('3 leaf advanced 10 divisions to measure its knob at 1 010 m');
    expect(words).toContain(
      'Knob of 3 leaf measured along: one division moves the print 0.030 mm, the mark says the truth',
    );
    expect(words).toContain('3 leaf advanced 10 divisions (0.30 mm) at 1 010 m');
  });
});
