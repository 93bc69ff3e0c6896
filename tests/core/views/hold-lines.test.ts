import { describe, expect, it } from 'vitest';
import { boardView } from '../../../src/core/views/board.js';
import { handoverText } from '../../../src/report/handover-text.js';
import { eightColourShift, type Shift } from '../../support/eight-colour.js';
import { told } from '../../support/told.js';

const quietThen = (counter: number, said: Parameters<Shift['check']>[0]): Shift => {
  const shift = eightColourShift();
  for (const at of [9_900, 10_500, 11_100, 11_700, 12_300]) {
    shift.to(at);
    shift.check();
  }
  shift.to(counter);
  shift.check(said);
  return shift;
};
const boardOf = (shift: Shift) => boardView(shift.run.state(), shift.at_ms());

describe('what holds product', () => {
  it('says why, and what would end it, on the list and in full', () => {
    const shift = quietThen(12_900, {
      misread: { '4': 0.31 },
      plates: { '5': { grade: 'dirty', flaws: 20, labels: 40 } },
    });
    const [line] = boardOf(shift).hold;
    expect(line).toMatchObject({ open: true, sentence: expect.stringContaining('12 300 m to now') });
    expect(line?.why).toBe('4 grey along and the plate of 5 black');
    expect(line?.ends).toBe('It ends when 4 grey reads good along and the plate of 5 black is clean.');
  });

  it('a misread that its second label disproves ends its own hold, and says so; what else holds goes on', () => {
    const shift = quietThen(12_900, {
      misread: { '4': 0.31 },
      plates: { '5': { grade: 'dirty', flaws: 20, labels: 40 } },
    });
    shift.check({ only: ['4'] });
    const board = boardOf(shift);
    const open = board.hold.filter((one) => one.open);
    expect(open).toHaveLength(1);
    // The stretch that goes on is the plate's alone in what would end it.
    expect(open[0]?.ends).toBe('It ends when the plate of 5 black is clean.');
    expect(open[0]?.why).toContain('4 grey along (most likely misread: inside on a second label of the sample)');
    expect(board.events[0]).toMatchObject({ open: false, misread: 8 });
    expect(board.events[0]?.sentence).toContain('Read again on the same sample (check 8) it was inside');
  });

  it('a reading that came back on a sample farther on was no misreading', () => {
    const shift = quietThen(12_900, { misread: { '4': 0.31 } });
    shift.to(13_400);
    shift.check({ only: ['4'] });
    expect(boardOf(shift).events[0]?.sentence).toContain('It came back by itself.');
    expect(boardOf(shift).events[0]?.misread).toBeUndefined();
  });
});

describe('the report of what was turned on one’s own', () => {
  it('never says that it came back by itself, nothing recorded: not for the reference, nor for the stations that were brought to it', () => {
    for (const turned of [['1'], ['2', '3', '4', '5', '6', '7', '8', 'D']]) {
      const shift = quietThen(12_900, {});
      shift.truth.along['1'] = 0.12;
      shift.to(13_500);
      shift.check();
      shift.to(14_000);
      shift.check();
      for (const id of turned) shift.turn(id, 'along', id === '1' ? -2 : 2);
      for (const at of [14_600, 15_200, 15_800]) {
        shift.to(at);
        shift.check();
      }
      const page = handoverText(told(shift.run.records), 100);
      expect(page).toContain('has moved ahead'.replace('has ', ''));
      expect(page).not.toContain('nothing is recorded');
      expect(page).not.toMatch(/came back by itself/i);
    }
  });

  it('a web that came back after tension was changed says so', () => {
    const shift = quietThen(12_900, {});
    const stretched = (mm: number): void => {
      for (const [i, id] of ['2', '3', '4', '5', '6', '7', '8'].entries())
        shift.truth.along[id] = (shift.truth.along[id] ?? 0) + mm * (i + 1) * 1.2;
      shift.truth.along.D = (shift.truth.along.D ?? 0) + mm * 11.1;
    };
    stretched(-0.015);
    for (const at of [13_500, 14_100]) {
      shift.to(at);
      shift.check();
    }
    shift.run.put({ type: 'web-set', what: 'tension', web_m: shift.web_m() });
    stretched(0.015);
    for (const at of [14_700, 15_300]) {
      shift.to(at);
      shift.check();
    }
    const page = handoverText(told(shift.run.records), 100).replace(/\s+/g, ' ');
    expect(page).toContain('It came back after tension was changed.');
    expect(page).toContain('Tension changed at 14 100 m');
    expect(page).not.toMatch(/came back by itself/i);
  });
});
