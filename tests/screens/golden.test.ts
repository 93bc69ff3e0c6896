import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { plainText } from '../../src/ui/draw/row.js';
import { drawFrame } from '../../src/ui/frame.js';
import { ascii, frameText, modelOf } from '../ui/frame-of.js';
import { chartAt, shiftMoments, viewAt } from './moments.js';
import { momentOf, reach, STATES } from './states.js';

/**
 * Screens as text files, each of a moment of one shift that was folded from its records, under a line of what is true on the press then.
 * They change only by `UPDATE_SCREENS=1 npx vitest run --config tests/vitest.config.ts tests/screens/golden.test.ts`, and are read in review.
 */
const FOLDER = new URL('./golden/', import.meta.url);
const UPDATE = process.env.UPDATE_SCREENS === '1';
const SO = 'On the press: ';

function same(name: string, truth: string, text: string): void {
  const file = new URL(`${name}.txt`, FOLDER);
  const kept = `${SO}${truth}\n\n${text}\n`;
  if (UPDATE) {
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(file, kept);
  }
  expect(existsSync(file), `golden screen ${name}.txt is missing`).toBe(true);
  expect(kept).toBe(readFileSync(file, 'utf8'));
}

const stateOf = (name: string): (typeof STATES)[number] => {
  const state = STATES.find((one) => one.name === name);
  if (state === undefined) throw new Error(name);
  return state;
};

describe.each(STATES)('$name', (state) => {
  it.each([
    [80, 24],
    [120, 40],
  ] as const)('at %i by %i', async (columns, rows) => {
    const desk = await reach(state);
    same(`${state.name}-${columns}x${rows}`, momentOf(state).truth, desk.see(columns, rows));
  });
});

describe('other looks', () => {
  it.each(['drifting', 'out'])('%s at 200 by 60 uses the room', async (name) => {
    const state = stateOf(name);
    same(`${name}-200x60`, momentOf(state).truth, (await reach(state)).see(200, 60));
  });

  it('drifting in ASCII only', () => {
    const moment = momentOf(stateOf('drifting'));
    const model = modelOf(viewAt(moment), 80, 24, { look: ascii, chart: chartAt(moment) });
    const rows = drawFrame(model).map((line) => plainText(line).trimEnd());
    expect(rows.join('')).toMatch(/^[\x20-\x7E]*$/);
    same('drifting-ascii-80x24', moment.truth, rows.join('\n'));
  });

  it.each([
    ['thou', 'ft'],
    ['64ths', 'ft'],
    ['in', 'repeats'],
  ] as const)('a job in %s and %s', (register, length) => {
    const moment = momentOf(stateOf('drifting'));
    const units = { register, length } as const;
    const state = { ...moment.state, job: { ...moment.state.job, units } };
    same(
      `drifting-${register}-80x24`,
      moment.truth,
      frameText(viewAt({ ...moment, state }), 80, 24, { chart: chartAt(moment), nowMs: moment.at_ms }),
    );
  });
});

describe('the shift at 60 by 15, where there is no room for the board', () => {
  it.each([
    'quiet',
    'drifting',
    'out',
    'overdue',
    'misread',
    'reference-moved',
    'web-moved',
    'second-label',
    'knob-moved',
  ])('%s: what to do still stands, whole', async (name) => {
    const state = stateOf(name);
    const text = (await reach(state)).see(60, 15);
    expect(text).toContain('60 by 15');
    same(`${name}-60x15`, momentOf(state).truth, text);
  });
});

/** What a test can tell of all golden screens at once; the rest is for who reads them. */
describe('every golden screen', () => {
  const screens = readdirSync(FOLDER)
    .filter((name) => name.endsWith('.txt'))
    .map((name) => {
      const [truth = '', , ...lines] = readFileSync(new URL(name, FOLDER), 'utf8').replace(/\n$/, '').split('\n');
      const size = /(\d+)x(\d+)\.txt$/.exec(name);
      return { name, truth, lines, columns: Number(size?.[1] ?? 80), rows: Number(size?.[2] ?? 24) };
    });

  it('is drawn by a test of this file, and says what is true on the press', () => {
    expect(screens.length).toBe(STATES.length * 2 + 2 + 1 + 3 + 9);
    for (const { name, truth } of screens) expect(truth, name).toMatch(/^On the press: .+\.$/);
  });

  it('fits its terminal', () => {
    for (const { name, lines, columns, rows } of screens) {
      expect(lines.length, name).toBeLessThanOrEqual(rows);
      for (const line of lines) expect([...line].length, `${name}: ${line}`).toBeLessThanOrEqual(columns);
    }
  });

  it('shows no word that is cut', () => {
    for (const { name, lines, columns } of screens)
      for (const line of lines) {
        expect(line, name).not.toMatch(/…|\w\.\.\.(?! )/);
        // A line that reaches the last column ends in a whole word: one that other lines of some screen say too, or a number, or a sign.
        const last = /(?<= )[A-Za-z]+$/.exec(line)?.[0];
        if ([...line].length >= columns && last !== undefined) expect(known(last), `${name}: ${line}`).toBe(true);
      }
  });

  it("shows no metre that is not the counter's: places lie where the counter stood in this shift", () => {
    const counters = new Set(
      shiftMoments().flatMap(({ state }) => state.judged.counters.map(({ offset_m }) => Math.round(-offset_m))),
    );
    expect(counters).toContain(9_400);
    for (const { name, lines } of screens) {
      if (/thou|64ths|drifting-in/.test(name)) continue;
      // Before the counter was set anew no place of the run is below 9 000 m, and none is negative.
      if (/counter-set-anew|new-plate|ended/.test(name)) continue;
      for (const line of lines) {
        expect(line, name).not.toMatch(/-\d[\d ]* m\b/);
        for (const [, place = ''] of line.matchAll(/(?:\(|at |from |since |until |: |to )(\d[\d ]*) m\b(?!\/)/g)) {
          const m = Number(place.replaceAll(' ', ''));
          expect(m === 0 || m >= 9_000, `${name}: ${line}`).toBe(true);
        }
      }
    }
  });

  it('gives no instruction that contradicts another', () => {
    for (const { name, lines } of screens) {
      const text = lines.join('\n');
      const turns = /▶ (RETARD|ADVANCE)|> (RETARD|ADVANCE)|▶ .* to (GEAR|OPERATOR) SIDE/.test(text);
      if (turns) {
        expect(text, name).not.toMatch(/do not turn|turn nothing|turn no knob|Leave every knob/i);
        expect(text, name).not.toMatch(/All holding|Nothing to turn/);
      }
      // No knob is asked for both ways, and no station is to be turned and read again at once.
      const asked = [...text.matchAll(/▶ (RETARD|ADVANCE) (\d+ [a-z]+(?: [a-z]+)?) \d/g)].map(([, way, who]) => ({
        way,
        who,
      }));
      for (const { way, who } of asked) {
        expect(
          asked.some((other) => other.who === who && other.way !== way),
          name,
        ).toBe(false);
        expect(text, name).not.toContain(`READ ${who} AGAIN`);
      }
      if (/▶ (WASH|READ|SAMPLE|CHECK)/.test(text)) expect(text, name).not.toMatch(/All holding/);
      if (/\bOUT\.$/m.test(text)) expect(text, name).not.toMatch(/Out in|if left alone/);
    }
  });
});

/** Words of the board: those that stand anywhere but at the edge of a screen. */
const WORDS = new Set<string>();
function known(word: string): boolean {
  if (WORDS.size === 0)
    for (const name of readdirSync(FOLDER))
      for (const line of readFileSync(new URL(name, FOLDER), 'utf8').split('\n').slice(2))
        for (const [one] of line.matchAll(/[A-Za-z]+(?=[^A-Za-z])/g)) WORDS.add(one);
  return word.length > 1 ? WORDS.has(word) : /[AaImg]/.test(word);
}
