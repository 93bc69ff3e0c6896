import { describe, expect, it } from 'vitest';
import { mutantsOf, mutated } from './mutate.js';

const all = (text: string): readonly string[] => mutantsOf('a.ts', text).map((one) => mutated(text, one));

describe('single mutations of a text', () => {
  it('moves and turns comparisons, exchanges operators, moves numbers', () => {
    expect(all('f(a < b);')).toEqual([';', 'f(a <= b);', 'f(a >= b);']);
    expect(all('const c = a * 2;')).toEqual(['const c = a / 2;', 'const c = a * (2 + 1);']);
    expect(all('const c = a && !b;')).toEqual(['const c = a || !b;', 'const c = a && (b);']);
  });
  it('decides conditions either way, drops statements and early returns', () => {
    expect(all('const c = a ? b : d;')).toEqual(['const c = (b);', 'const c = (d);']);
    expect(all('const f = () => { if (a) return b; return d; };')).toEqual(['const f = () => { ; return d; };']);
  });
  it('leaves words, types, imports, and what only the compiler asks for', () => {
    expect(all("import { a } from './b.js';\ntype C = { readonly d: 1 | -1 };\nconst e: 2 = f as 2;")).toEqual([]);
    expect(all("const c = 'less < more' + d;")).toEqual([]);
    expect(all('const c = list[i] ?? 0;')).toEqual([]);
  });
  it('finds the operator, not its like inside the left side', () => {
    expect(all('const c = f(a - b) - d;')).toEqual(['const c = f(a + b) - d;', 'const c = f(a - b) + d;']);
  });
});
