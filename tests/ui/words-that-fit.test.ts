import { describe, expect, it } from 'vitest';
import type { RegisterState } from '../../src/core/views/board-view.js';
import { plainText } from '../../src/ui/draw/row.js';
import { labelRow, plateRow, readingRow, stateRow } from '../../src/ui/draw/table.js';
import { axisView, quiet, station } from './fixtures.js';
import { frameText, look } from './frame-of.js';

const STATES: readonly RegisterState[] = ['holding', 'moved', 'drifting', 'out', 'not enough readings', 'not read'];
/** Every word that a row may hold; a piece of one is a word cut. */
const WORDS =
  /^(state|plate|along|across|\+ahead|\+oper\.|mm|reference|ref\.|holding|holds|moved|drifting|drifts|OUT|too|few|not|read|unread|the|rest|all|more|kinds:|i|building|builds|dirty|DIRTY|wash-due|wash|washed|clean|seen|unseen|-|looked|\d+|\*|D|[[\]+-]?[\d.]+\]?|\[[+-][\d.]+\])$/;

const stationsOf = (n: number, state: RegisterState, mixed: boolean) =>
  Array.from({ length: n }, (_, i) => {
    const here = mixed ? (STATES[i % STATES.length] ?? state) : state;
    const last = here === 'not read' ? null : here === 'out' ? 0.25 : -0.08;
    const one = axisView({ state: here, last_mm: last });
    return station({
      id: String(i + 1),
      label: `${i + 1} transparent magenta`,
      at_m: 1.5 + i * 1.2,
      is_reference: i === 0,
      along: one,
      across: axisView(),
      plate: { flag: ([null, 'building', 'dirty', 'wash-due'] as const)[i % 4] ?? null, grade: 'clean' },
    });
  });

describe.each([6, 7, 8, 10, 12])('%i stations', (n) => {
  describe.each([60, 80, 120])('at %i columns', (width) => {
    it.each([...STATES, 'mixed'] as const)('no word is cut: %s', (state) => {
      const view = quiet({ stations: stationsOf(n, state === 'mixed' ? 'holding' : state, state === 'mixed') });
      const box = { width, gutter: 14 };
      for (const line of [
        stateRow(view, box),
        plateRow(view, box),
        readingRow(view, 'along', box),
        readingRow(view, 'across', box),
      ]) {
        const text = plainText(line);
        expect(text.length).toBeLessThanOrEqual(width);
        for (const word of text.trim().replaceAll(',', ' ').split(/\s+/)) expect(word, text).toMatch(WORDS);
      }
      // A name is whole, or the station's number alone.
      for (const word of plainText(labelRow(view, box, '', look))
        .trim()
        .split(/\s+/))
        expect(word).toMatch(/^(mm|■|●|\d+|transparent|magenta)$/);
    });
  });
});

it('"all holding" is not said over a row of "too few"', async () => {
  const { boardView } = await import('../../src/core/views/board.js');
  const { tryRun } = await import('../support/try-run.js');
  const run = tryRun();
  run.check(1, 1000, { '2': 0, '3': 0, '4': 0, D: 0 });
  const view = boardView(run.state(), Date.parse('2026-11-24T12:00:00Z'));
  expect(frameText(view)).toContain('too few');
  expect(frameText(view)).not.toMatch(/all holding/i);
});
