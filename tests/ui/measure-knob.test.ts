import { describe, expect, it } from 'vitest';
import { knobTrial } from '../../src/core/set-up/knob-trial.js';
import type { TrialView } from '../../src/core/views/board-view.js';
import { sitDown } from './desk.js';
import { ended, knobView, quiet, quietStations } from './fixtures.js';

/** The plum-jam job with 3 leaf's knob not measured along. */
const view = (knob: Parameters<typeof knobView>[0] = {}) =>
  quiet({
    stations: quietStations().map((one) =>
      one.id === '3'
        ? {
            ...one,
            knob: { ...one.knob, along: knobView({ division_mm: null, before: { check: 11, mm: -0.02 }, ...knob }) },
          }
        : one,
    ),
  });

const trial = (after: readonly number[], over: Partial<TrialView> = {}): TrialView => ({
  station: '3',
  axis: 'along',
  divisions: 10,
  turns: [{ entry: 40, divisions: 10, web_m: 21_460 }],
  before: { check: 11, mm: -0.02 },
  tells_from_m: 21_468.1,
  after: after.map((mm, i) => ({ check: 12 + i, mm })),
  result: after.length === 0 ? null : knobTrial(-0.02, after, 10, 0.01),
  ...over,
});

describe('measuring a knob on the board', () => {
  it('says step by step what to do: turned ten divisions, on record at once, with the reading before it', async () => {
    const desk = sitDown(view());
    await desk.keys('3d');
    expect(desk.see()).toContain('Measure the knob of 3 leaf');
    expect(desk.see().replace(/\s+/g, ' ')).toContain(
      'along: turn it 10 divisions the way marked ADVANCE. Turned, at 21 450 m? Before it: check 11, -0.02 mm.',
    );
    expect(desk.see()).toContain('Out of register till turned back: best in make-ready. Press manual first.');
    await desk.keys('[enter]');
    // No division is known along here but those of the other stations, 0.05 mm: taken for that until it is measured.
    expect(desk.port.submitted).toEqual([
      {
        type: 'correction',
        station: '3',
        axis: 'along',
        move_mm: 0.5,
        teeth: 0,
        divisions: 10,
        web_m: 21_450,
        counter: 'estimated',
        trial: true,
      },
    ]);
    expect(desk.count()).toBe(3);
    expect(desk.see()).toContain('Next: a sample printed wholly after it');
  });

  it('can be the other way, another number, across; a mark that says the opposite moves the print the other way', async () => {
    const desk = sitDown(view({ sense: -1, last_way: -1 }));
    await desk.keys('3d');
    expect(desk.see()).toContain('RETARD');
    await desk.keys('20[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ divisions: 20, move_mm: 1 });
    await desk.keys('ad');
    expect(desk.see()).toContain('OPERATOR SIDE');
    await desk.keys('[enter]');
    expect(desk.port.submitted[1]).toMatchObject({ axis: 'across', divisions: 10, trial: true });
  });

  it('says that slack counts in when it was last turned the other way', async () => {
    const desk = sitDown(view({ last_way: -1 }));
    await desk.keys('3d');
    expect(desk.see()).not.toContain('slack');
    await desk.keys('[back-tab][right]');
    expect(desk.see(120, 40).replace(/\s+/g, ' ')).toContain('slack counts in');
  });

  it('asks for a reading first when the last one is not of the press as it stands', async () => {
    const desk = sitDown(view({ before: null }));
    await desk.keys('3d');
    expect(desk.see()).toContain('It must be read first.');
    await desk.keys('[enter]');
    expect(desk.see()).toContain('Read 3 leaf along first, off a sample printed after its last turn');
    expect(desk.port.submitted).toEqual([]);
  });

  it.each(['0', 'x', '1.2', '-5'])('takes no "%s" for a number of divisions', async (typed) => {
    const desk = sitDown(view());
    await desk.keys(`3d${typed}[enter]`);
    expect(desk.see()).toContain('is no number of divisions');
    expect(desk.port.submitted).toEqual([]);
  });

  it('while the sample is awaited, says from which counter on one tells', async () => {
    const desk = sitDown({ ...view(), trial: trial([]) });
    await desk.keys('d');
    expect(desk.see().replace(/\s+/g, ' ')).toContain(
      'Knob of 3 leaf along: pull a sample from 21 468 m on (p), read it (c)',
    );
    await desk.keys('[enter]');
    expect(desk.port.submitted).toEqual([]);
  });

  it('shows what one division is and whether the mark is true; Enter records it and the turn as the move it was', async () => {
    const desk = sitDown({ ...view(), trial: trial([0.19]) });
    await desk.keys('d');
    // 0.21 mm for ten divisions; 1.96 × 0.01 × √2 ÷ 10 = 0.0028 either way.
    expect(desk.see().replace(/\s+/g, ' ')).toContain(
      "One division of 3 leaf's knob moves the print 0.021 mm along (0.018 to 0.024): the mark says the truth. Record it?",
    );
    await desk.keys('[enter]');
    expect(desk.see().replace(/\s+/g, ' ')).toContain('To bring it back: 10 the way marked RETARD; k notes it.');
    expect(desk.port.submitted).toEqual([
      {
        type: 'knob',
        station: '3',
        axis: 'along',
        division_mm: 0.021,
        sense: 1,
        divisions: 10,
        before_check: 11,
        after_check: 12,
        web_m: 21_460,
      },
      { type: 'withdraw', check: null, entry: 40, web_m: null },
      { type: 'correction', station: '3', axis: 'along', move_mm: 0.21, teeth: 0, divisions: 10, web_m: 21_460 },
    ]);
  });

  it('a mark that says the opposite: the turn was a move the other way', async () => {
    const desk = sitDown({ ...view(), trial: trial([-0.23]) });
    await desk.keys('d');
    expect(desk.see().replace(/\s+/g, ' ')).toContain('the mark says the opposite. Record it?');
    await desk.keys('[enter]');
    expect(desk.port.submitted).toMatchObject([{ sense: -1 }, {}, { move_mm: -0.21, divisions: -10 }]);
  });

  it('not enough: asks to turn further, the same way', async () => {
    const desk = sitDown({ ...view(), trial: trial([-0.01]) });
    await desk.keys('d');
    expect(desk.see().replace(/\s+/g, ' ')).toContain(
      'Not enough: the print did not move by more than readings scatter',
    );
    expect(desk.see().replace(/\s+/g, ' ')).toContain(
      'Turned 3 leaf 10 divisions further the way marked ADVANCE at 21 450 m?',
    );
    await desk.keys('[enter]');
    expect(desk.port.submitted).toMatchObject([{ type: 'correction', divisions: 10, trial: true, web_m: 21_450 }]);
  });

  it('is not offered once the run has ended', async () => {
    const desk = sitDown(ended());
    await desk.keys('d');
    expect(desk.see()).toContain('The run has ended');
  });
});
