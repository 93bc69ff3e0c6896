import { describe, expect, it } from 'vitest';
import { caution } from '../../../src/core/adjust/caution.js';
import { sayRegister } from '../../../src/core/adjust/say-register.js';
import { instructionWords, moveWords, type NamedStation, tellsAfter } from '../../../src/core/adjust/words.js';
import type { Move } from '../../../src/core/finding.js';

const white: NamedStation = { id: '1', name: '1 white', word: 'divisions', sense: 1 };
const move = (over: Partial<Move> = {}): Move => ({
  station: '1',
  axis: 'along',
  move_mm: -0.06,
  turn: 'retard',
  teeth: 0,
  divisions: 3,
  knob: 'retard',
  hand: 'anticlockwise',
  when: 'running',
  ...over,
});

describe('what to turn, in words', () => {
  it('one knob', () => {
    expect(instructionWords([move()], [white], 'mm')).toEqual([
      'Retard 1 white 3 divisions (0.06 mm, print goes back): knob anticlockwise.',
      'Touch nothing else.',
    ]);
  });
  it('one division is one division, in the job’s unit', () => {
    expect(moveWords(move({ divisions: 1, move_mm: -0.0508 }), white, 'thou')).toContain('1 division (2.0 thou');
  });
  it('a tooth one way and divisions back: each its own direction, the hand that of the knob’s own way', () => {
    expect(moveWords(move({ teeth: 1, divisions: -61, move_mm: -0.125, when: 'stop' }), white, 'mm')).toBe(
      'Retard 1 white 1 tooth, then advance 61 divisions by knob: knob clockwise. Together 0.13 mm, print goes back.',
    );
  });
  it('a knob marked the other way round', () => {
    expect(moveWords(move({ knob: 'advance' }), { ...white, sense: -1 }, 'mm')).toContain('toward the mark "advance"');
  });
  it('no division: mm and direction', () => {
    expect(moveWords(move({ divisions: null, hand: null }), white, 'mm')).toBe(
      'Retard 1 white 0.06 mm (print goes back).',
    );
  });
  it('nothing to turn says nothing', () => expect(instructionWords([], [white], 'mm')).toEqual([]));
  it('tells from the counter at which the last moved print reaches the sample place', () => {
    const stations = [
      { id: '1', at_m: 1.5 },
      { id: '3', at_m: 3.9 },
    ];
    expect(tellsAfter([move({ station: '3' })], stations, 21450, 12)).toBeCloseTo(21458.1, 9);
    expect(tellsAfter([move({ station: '3' }), move()], stations, 21450, 12)).toBeCloseTo(21460.5, 9);
    expect(tellsAfter([], stations, 21450, 12)).toBeNull();
  });
});

describe('cautions', () => {
  it('none without a move', () => expect(caution([])).toBeNull());
  it('running: the knob only', () => expect(caution([move()])).toContain('Turn the knob only'));
  it('a stop is said', () => expect(caution([move({ when: 'stop' })])).toContain('made safe'));
  it('teeth: stopped, print thrown off, mesh checked, inch, new first-off', () => {
    for (const word of ['stopped and made safe', 'thrown off', 'mesh', 'inch', 'first-off'])
      expect(caution([move({ teeth: 1 })])).toContain(word);
  });
  it('a die move has its own', () => expect(caution([move({ station: 'D' })], ['D'])).toContain('Die move'));
});

describe('amounts in the job’s unit', () => {
  // Exact by definition: 1 in = 25.4 mm.
  it.each([
    ['mm', '0.40 mm'],
    ['in', '0.0156 in'],
    ['thou', '15.6 thou'],
    ['64ths', '1.0/64 in'],
  ] as const)('1/64 in said in %s', (unit, said) => expect(sayRegister(-25.4 / 64, unit)).toBe(said));
});
