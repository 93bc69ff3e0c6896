import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { handoverMarkdown } from '../../src/report/handover-markdown.js';
import { handoverText } from '../../src/report/handover-text.js';
import { SHIFTS } from './shifts.js';

/** Markdown is kept as .md.txt so that no formatter rewrites it. Golden reports change only by `UPDATE_GOLDEN=1 npx vitest run … tests/report/golden.test.ts`, and are read in review. */
const FORMATS = { 'md.txt': handoverMarkdown, txt: (view: Parameters<typeof handoverText>[0]) => handoverText(view) };

test('a quiet shift is told in at most 60 lines', () => {
  const quiet = SHIFTS['quiet-shift'];
  if (quiet === undefined) throw new Error('no quiet shift');
  expect(handoverText(quiet).trimEnd().split('\n').length).toBeLessThanOrEqual(60);
});

describe('golden handovers', () => {
  for (const [name, view] of Object.entries(SHIFTS))
    for (const [format, write] of Object.entries(FORMATS))
      test(`${name}.${format}`, () => {
        const path = new URL(`golden/${name}.${format}`, import.meta.url);
        const text = write(view);
        if (process.env.UPDATE_GOLDEN === '1') writeFileSync(path, text);
        expect(text).toBe(readFileSync(path, 'utf8'));
      });
});
