import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { plainText } from '../../src/ui/draw/row.js';
import { drawFrame } from '../../src/ui/frame.js';
import { drifting } from '../ui/fixtures.js';
import { ascii, frameText, modelOf } from '../ui/frame-of.js';
import { reach, STATES } from './states.js';

/**
 * Screens as text files. They change only by `UPDATE_SCREENS=1 npx vitest run --config tests/vitest.config.ts tests/screens/golden.test.ts`,
 * and are read in review.
 */
const FOLDER = new URL('./golden/', import.meta.url);
const UPDATE = process.env.UPDATE_SCREENS === '1';

function same(name: string, text: string): void {
  const file = new URL(`${name}.txt`, FOLDER);
  if (UPDATE) {
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(file, `${text}\n`);
  }
  expect(existsSync(file), `golden screen ${name}.txt is missing`).toBe(true);
  expect(`${text}\n`).toBe(readFileSync(file, 'utf8'));
}

describe.each(STATES)('$name', (state) => {
  it.each([
    [80, 24],
    [120, 40],
  ] as const)('at %i by %i', async (columns, rows) => {
    const desk = await reach(state);
    same(`${state.name}-${columns}x${rows}`, desk.see(columns, rows));
  });
});

describe('other looks', () => {
  it.each(['drifting', 'out'])('%s at 200 by 60 uses the room', async (name) => {
    const state = STATES.find((one) => one.name === name);
    if (state === undefined) throw new Error(name);
    same(`${name}-200x60`, (await reach(state)).see(200, 60));
  });

  it('drifting in ASCII only', async () => {
    const state = STATES.find((one) => one.name === 'drifting');
    if (state === undefined) throw new Error('drifting');
    const rows = drawFrame(modelOf(state.view(), 80, 24, { look: ascii })).map((line) => plainText(line).trimEnd());
    expect(rows.join('')).toMatch(/^[\x20-\x7E]*$/);
    same('drifting-ascii-80x24', rows.join('\n'));
  });

  it.each([
    ['thou', 'ft'],
    ['64ths', 'ft'],
    ['in', 'repeats'],
  ] as const)('a job in %s and %s', (register, length) => {
    const view = { ...drifting(), units: { register, length } };
    same(`drifting-${register}-80x24`, frameText(view, 80, 24));
  });

  it('below 80 by 24 it says so and still shows the instruction', async () => {
    const state = STATES.find((one) => one.name === 'out');
    if (state === undefined) throw new Error('out');
    const text = (await reach(state)).see(60, 15);
    expect(text).toContain('60 by 15');
    expect(text).toContain('RETARD 4 grey 4 divisions');
    same('out-60x15', text);
  });
});
