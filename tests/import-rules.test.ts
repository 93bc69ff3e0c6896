import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

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

const files = readdirSync(SRC, { recursive: true, withFileTypes: true })
  .filter((e) => e.isFile() && /\.tsx?$/.test(e.name))
  .map((e) => join(e.parentPath, e.name));
const roomOf = (file: string): string => (relative(SRC, file).split('/')[0] ?? '').replace(/\.tsx?$/, '');
const importsOf = (text: string): readonly string[] =>
  [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((m) => m[1] ?? '');
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
