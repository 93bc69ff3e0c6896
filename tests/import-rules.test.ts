import { readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { importGraph, importsOf, sourcesUnder } from './support/import-graph.js';

const SRC = fileURLToPath(new URL('../src', import.meta.url));

/** Which rooms a room may import from, besides itself. The arrows of DEVELOPERS.md. */
const MAY: Readonly<Record<string, readonly string[]>> = {
  core: [],
  store: ['core'],
  devices: ['core'],
  report: ['core'],
  ui: ['core'],
  practice: ['core'],
  demo: ['core'],
  runtime: ['core', 'store'],
  commands: ['core', 'store', 'devices', 'report', 'ui', 'demo', 'practice', 'runtime', 'version'],
  version: [],
  main: ['commands', 'core', 'store', 'version'],
  cli: ['main'],
  index: ['core'],
  'build-schemas': ['core', 'devices', 'report'],
  'write-demo-data': ['commands', 'core', 'demo'],
};

const files = sourcesUnder(SRC);
const roomOf = (file: string): string => (relative(SRC, file).split('/')[0] ?? '').replace(/\.tsx?$/, '');
const text = new Map(files.map((f) => [f, readFileSync(f, 'utf8')]));

describe('who may import whom', () => {
  it.each(files.map((f) => [relative(SRC, f), f] as const))('%s', (_name, file) => {
    const room = roomOf(file);
    const allowed = MAY[room];
    expect(allowed, `room ${room} is not on the drawing`).toBeDefined();
    for (const name of importsOf(text.get(file) ?? '')) {
      if (!name.startsWith('.')) continue;
      const to = roomOf(join(dirname(file), name.replace(/\.js$/, '.ts')));
      expect(to === room || (allowed ?? []).includes(to), `${relative(SRC, file)} imports ${name} (room ${to})`).toBe(
        true,
      );
    }
  });
});

describe('the core is pure', () => {
  const core = files.filter((f) => roomOf(f) === 'core');
  it.each(core.map((f) => [relative(SRC, f), f] as const))('%s', (_name, file) => {
    const code = (text.get(file) ?? '').replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '');
    expect(importsOf(code).filter((i) => i.startsWith('node:') || i === 'react' || i === 'ink')).toEqual([]);
    expect(code).not.toMatch(
      /Date\.now\(|new Date\(\)|Math\.random\(|performance\.now\(|process\.|setTimeout\(|setInterval\(|^export class /m,
    );
  });
});

describe('sentences are for people', () => {
  // The errors of these libraries carry words only: serial port, Modbus, schema.
  const WITHOUT_CODES = ['devices/port-trouble.ts', 'devices/modbus-asker.ts', 'core/file-problem.ts'];
  // Words that a student or an operator typed, not ours.
  const TYPED = ['practice/named.ts', 'core/set-up/understand-length.ts'];
  // A view made it "movement 3"; whether a place is said already.
  const PAGES = ['report/sections/holds.ts', 'report/sections/log-lines.ts'];
  const SAID = String.raw`(?:\w+\??\.)*(?:message|why|words|said|sentence|trouble|refused|reason)\b`;
  const SEARCHED = new RegExp(
    [
      String.raw`\b${SAID}\)?\??\.(?:includes|match|matchAll|startsWith|endsWith|search|indexOf)\(`,
      String.raw`(?:test|exec)\(${SAID}`,
      String.raw`\.message\s*[!=]==(?!\s*null)`,
      String.raw`[!=]==\s*\w+(?:\.\w+)*\.message\b`,
    ].join('|'),
    'g',
  );
  it.each(
    files
      .map((f) => [relative(SRC, f), f] as const)
      .filter(([name]) => ![...WITHOUT_CODES, ...TYPED, ...PAGES].includes(name)),
  )('%s decides by none', (_name, file) => {
    const code = (text.get(file) ?? '').replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
    expect(code.match(SEARCHED) ?? []).toEqual([]);
  });
});

describe('panels see views only', () => {
  const panels = files.filter((f) => relative(SRC, f).startsWith('ui/panels/'));
  it.each(panels.map((f) => [relative(SRC, f), f] as const))('%s', (_name, file) => {
    for (const name of importsOf(text.get(file) ?? ''))
      expect(name, relative(SRC, file)).not.toMatch(/core\/(run|drift|adjust|hold|plates|spc)\//);
  });
});

describe('no circle of files', () => {
  it('each file can be read before those that import it', () => {
    // Whoever has nothing left to wait for is read; what is never read waits for itself.
    const waits = new Map([...importGraph(files)].map(([file, needs]) => [file, new Set(needs)]));
    for (let ready = ofNoNeed(waits); ready.length > 0; ready = ofNoNeed(waits))
      for (const one of ready) {
        waits.delete(one);
        for (const needed of waits.values()) needed.delete(one);
      }
    // Of what is left, those that only import a circle are no part of one.
    for (let ends = neededByNone(waits); ends.length > 0; ends = neededByNone(waits))
      for (const one of ends) waits.delete(one);
    expect([...waits.keys()].map((file) => relative(SRC, file))).toEqual([]);
  });
});

const ofNoNeed = (waits: ReadonlyMap<string, ReadonlySet<string>>): readonly string[] =>
  [...waits].filter(([, needed]) => needed.size === 0).map(([file]) => file);

const neededByNone = (waits: ReadonlyMap<string, ReadonlySet<string>>): readonly string[] => {
  const needed = new Set([...waits.values()].flatMap((one) => [...one]));
  return [...waits.keys()].filter((file) => !needed.has(file));
};
