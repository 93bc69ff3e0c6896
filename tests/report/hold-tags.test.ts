import { describe, expect, test } from 'vitest';
import { holdTags } from '../../src/report/hold-tags.js';
import { holdTagsHtml } from '../../src/report/hold-tags-html.js';
import { stationToReread } from '../../src/report/station-to-reread.js';
import { busyShift, nothingRecorded, quietShift, stationOf, twoOpen } from './shifts.js';

// Metres from the outside of a rewound roll = counter at its end − counter (derived in the trade notes, last in, first out).

const withRolls = {
  ...busyShift,
  finished_rolls: [
    { roll: '7', from_m: 12_200, to_m: 14_200 },
    { roll: '8', from_m: 14_200, to_m: 16_200 },
    { roll: '11', from_m: 20_200, to_m: null },
  ],
};

describe('tags on held rolls', () => {
  test('one a roll, with the stretch of that roll and where it is met from the outside', () => {
    expect(
      holdTags(withRolls).map(({ roll, from_m, to_m, from_outside_m }) => ({ roll, from_m, to_m, from_outside_m })),
    ).toEqual([
      { roll: '7', from_m: 12_900, to_m: 14_200, from_outside_m: { near: 0, far: 1_300 } },
      { roll: '8', from_m: 14_200, to_m: 14_450, from_outside_m: { near: 1_750, far: 2_000 } },
      { roll: '11', from_m: 20_300, to_m: null, from_outside_m: null },
    ]);
  });

  test('where a roll lies is not guessed', () => {
    expect(holdTags(busyShift).every((tag) => tag.from_outside_m === null)).toBe(true);
    expect(holdTagsHtml(busyShift)).toContain('take the whole roll');
  });

  test('with nothing to hold the page says so', () => {
    expect(holdTagsHtml(quietShift)).toContain('No product is on hold.');
  });
});

describe('which station the incoming operator reads again', () => {
  test('the one in the worst open movement', () => {
    expect(stationToReread(twoOpen)).toEqual({ station: 'D', why: 'open movement 4' });
  });

  test('with no movement the one likeliest to be out next, then the one closest to its limit', () => {
    const likely = {
      ...quietShift,
      board: {
        ...quietShift.board,
        stations: [...quietShift.board.stations, stationOf('7', { along: { last: 0.01, p_out: 0.3 } })],
      },
    };
    expect(stationToReread(likely)).toEqual({ station: '7', why: 'likeliest to be out next' });
    expect(stationToReread(quietShift)?.station).toBe('4');
  });

  test('without readings it still names one; with nothing measurable none', () => {
    expect(stationToReread(nothingRecorded)).toEqual({ station: '2', why: 'no reading stands out' });
    expect(stationToReread({ ...nothingRecorded, board: { ...nothingRecorded.board, stations: [] } })).toBeNull();
  });
});
