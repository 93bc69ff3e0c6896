import { describe, expect, it } from 'vitest';
import type { StationReading } from '../../../src/core/record.js';
import { boardView } from '../../../src/core/views/board.js';
import type { BoardView, PlateView } from '../../../src/core/views/board-view.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

const at = Date.parse('2026-11-24T12:00:00Z');
const board = (run: TryRun): BoardView => boardView(run.state(), at);
const plate = (run: TryRun): PlateView | undefined => board(run).stations.find((one) => one.id === '4')?.plate;
const fillIn = { flaw_kind: 'fill-in', flaw_edge: 'leading', flaw_comes: 'same place' } as const;

const graded = (run: TryRun, n: number, web_m: number, more: Partial<StationReading>): void => {
  run.check(n, web_m, { '4': [null, null] }, more);
};

const dirty = (more: Partial<StationReading> = fillIn): TryRun => {
  const run = tryRun();
  graded(run, 1, 2000, { plate: 'clean' });
  graded(run, 2, 4000, { plate: 'dirty', flaws: 12, labels: 40, ...more });
  return run;
};

describe('a dirty plate on the board', () => {
  it('says what the flaw is, why, where to look, and the caution', () => {
    const { instruction, acts } = board(dirty());
    expect(instruction.sentence).toBe('Wash 4 grey. Fill-in at the leading edge, same place every repeat.');
    expect(instruction.why).toMatch(
      /^Graded dirty, 12 flaws in 40 labels\. Once a repeat at the same place: it sits on the plate or its cylinder\. Filling in at the leading edge is ink drying in as a rule\./,
    );
    expect(instruction.caution).toMatch(/stopped and made safe.*safety sheets.*Site procedure/);
    expect(acts.at(-1)?.words).toBe('Check 2: plates only; plate of 4 grey dirty (fill-in, leading edge, same place)');
  });
  it('debris is looked for before the plate is washed', () => {
    const { instruction } = board(dirty({ flaw_comes: 'moves' }));
    expect(instruction.sentence).toMatch(/^Look for debris at 4 grey, and wash its plate\./);
    expect(instruction.caution).toMatch(/stopped and made safe/);
  });
  it('the advice stays when the press stops for it, and one that only builds is washed at the stop too', () => {
    const run = dirty();
    run.put({ type: 'stop', web_m: 4100 });
    expect(board(run).instruction).toMatchObject({
      urgency: 'act',
      sentence: 'Wash 4 grey now, at the stop. Fill-in at the leading edge, same place every repeat.',
      caution: expect.stringContaining('stopped and made safe'),
    });
    run.put({ type: 'wash', station: '4', web_m: 4100 });
    expect(board(run).instruction.sentence).toBe('Stopped.');
    const building = tryRun();
    for (const n of [1, 2]) graded(building, n, n * 2000, { plate: 'building' });
    expect(board(building).instruction).toMatchObject({ sentence: 'Watch the plate of 4 grey.', caution: '' });
    building.put({ type: 'stop', web_m: 4100 });
    expect(board(building).instruction).toMatchObject({ urgency: 'note', sentence: 'Wash 4 grey now, at the stop.' });
    expect(board(building).instruction.caution).toMatch(/made safe/);
  });
  it('nothing said of the flaw: the words are as they were', () => {
    expect(board(dirty({})).instruction.sentence).toBe('Wash 4 grey.');
    expect(plate(dirty({}))).toMatchObject({ flaw: '', cause: 'One plate alone: that plate or its anilox.' });
  });
});

describe('its wash', () => {
  it('is not seen, then helped, with what it was washed of', () => {
    const run = dirty();
    run.put({ type: 'wash', station: '4', web_m: 4100 });
    expect(plate(run)).toMatchObject({
      flag: null,
      flaw: '',
      washed: {
        seen: false,
        words: 'Washed when dirty (fill-in at the leading edge, same place every repeat): not seen since.',
      },
    });
    graded(run, 3, 6000, { plate: 'clean' });
    expect(plate(run)?.washed).toEqual({
      seen: true,
      words: 'Washed when dirty (fill-in at the leading edge, same place every repeat): it helped.',
    });
  });
  it('that did not help is said', () => {
    const run = dirty({});
    run.put({ type: 'wash', station: '4', web_m: 4100 });
    graded(run, 3, 6000, { plate: 'building' });
    expect(plate(run)?.washed).toEqual({ seen: true, words: 'Washed when dirty: it did not help.' });
  });
  it('of a plate that was not flagged has nothing to tell', () => {
    const run = tryRun();
    graded(run, 1, 2000, { plate: 'clean' });
    run.put({ type: 'wash', station: '4', web_m: 2100 });
    expect(plate(run)?.washed).toEqual({ seen: false, words: '' });
  });
});
