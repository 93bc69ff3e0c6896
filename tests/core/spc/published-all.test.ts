import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { publishedIds } from './published.js';

/** Ids that tests put together from a list of endings, with the endings they list. */
const FAMILIES: readonly [RegExp, readonly string[]][] = [
  [/^arl-runs-c(.+)$/, ['`arl-runs-c$', "['12', '13', '14', '123', '134', '1234']"]],
  [/^nelson-test-(.)$/, ['`nelson-test-$', "['1', '2', '3', '4', '5', '6', '7', '8']"]],
  [/^western-electric-rule-(.)$/, ['`western-electric-rule-$', "['1', '2', '3', '4']"]],
  [/^qcc-we-rule-(.+)$/, ['`qcc-we-$']],
];

it('every published case is run by some test', () => {
  const here = new URL('.', import.meta.url);
  const text = readdirSync(here)
    .filter((name) => name.endsWith('.test.ts') && name !== 'published-all.test.ts')
    .map((name) => readFileSync(new URL(name, here), 'utf8'))
    .join('\n');
  const left = publishedIds.filter((id) => {
    const family = FAMILIES.find(([pattern]) => pattern.test(id));
    if (family === undefined) return !text.includes(`'${id}'`);
    const ending = family[0].exec(id)?.[1] ?? '';
    return !family[1].every((part) => text.includes(part)) || !new RegExp(`'(rule-)?${ending}'`).test(text);
  });
  expect(left).toEqual([]);
  expect(publishedIds.length).toBe(81);
});
