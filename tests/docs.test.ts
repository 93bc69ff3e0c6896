import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readJob } from '../src/core/job-file.js';
import { readPress } from '../src/core/press-file.js';
import { COLUMNS, KINDS } from '../src/core/readings/row.js';
import { readFault } from '../src/practice/fault-file.js';
import { GRID_KEYS, keyTable } from '../src/ui/keymap.js';
import { publishedIds } from './core/spc/published.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const CLI = join(ROOT, 'dist/cli.js');
const text = (file: string): string => readFileSync(join(ROOT, file), 'utf8');
/** For whoever runs the press, then for whoever works on the program; each page stands beside what it describes. */
const FOR_PEOPLE = [
  '',
  'src/ui/',
  'src/commands/',
  'src/core/',
  'src/practice/',
  'src/core/spc/',
  'src/core/adjust/',
].map((folder) => `${folder}README.md`);
const FOR_MAKERS = ['DEVELOPERS.md', 'src/core/drift/README.md', 'src/store/README.md', 'src/devices/README.md'].concat(
  ['src/README.md', 'tests/README.md', 'tests/bench/README.md', 'tests/torture/README.md'],
);
const PAGES = [...FOR_PEOPLE, ...FOR_MAKERS, 'devices/README.md'];
const README = FOR_PEOPLE.map(text).join('\n');
const DEVELOPERS = [...FOR_MAKERS, 'src/core/spc/README.md'].map(text).join('\n');
const holdreg = (...words: readonly string[]): string =>
  execFileSync(process.execPath, [CLI, ...words], { encoding: 'utf8', env: { ...process.env, COLUMNS: '200' } });
const all = (page: string, pattern: RegExp): readonly string[] => [...page.matchAll(pattern)].map((m) => m[1] ?? '');
const blocks = (page: string, language: string): readonly string[] =>
  all(page, new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\`$`, 'gm'));

describe('every file and link named is there', () => {
  it.each(PAGES)('links of %s', (page) => {
    for (const link of all(text(page), /\]\(([^)\s]+)\)/g))
      if (!/^[a-z]+:/.test(link)) expect(existsSync(join(ROOT, dirname(page), link)), `${page}: ${link}`).toBe(true);
  });

  it.each(PAGES)('paths of %s', (page) => {
    const paths = all(text(page), /`((?:src|tests|devices|demo-data|dist|\.ci)\/[^`*\s]*)`/g);
    for (const path of paths) expect(existsSync(join(ROOT, path)), `${page}: ${path}`).toBe(true);
  });

  it.each(PAGES)('no path of one machine in %s', (page) => {
    expect(text(page)).not.toMatch(/\/(?:work|tmp|home|root|usr|var)\//);
  });

  it.each(PAGES)('npm scripts of %s', (page) => {
    const { scripts } = JSON.parse(text('package.json')) as { readonly scripts: Readonly<Record<string, string>> };
    for (const name of all(text(page), /npm run ([\w-]+)/g)) expect(Object.keys(scripts), page).toContain(name);
  });
});

describe('the first pages stay short', () => {
  it('the README can be read before the first run, DEVELOPERS before the first change', () => {
    expect(text('README.md').split('\n').length).toBeLessThanOrEqual(150);
    expect(Buffer.byteLength(text('DEVELOPERS.md'))).toBeLessThanOrEqual(20_000);
  });

  it('every page is linked from one of the two', () => {
    const linked = ['README.md', 'DEVELOPERS.md'].flatMap((page) => all(text(page), /\]\(([^)\s]+)\)/g));
    for (const page of PAGES.slice(1)) if (page !== 'DEVELOPERS.md') expect(linked, page).toContain(page);
  });
});

describe('the pages for people', () => {
  it('has the keys of the keymap, and those of the check grid', () => {
    expect(README).toContain(keyTable());
    const grid = GRID_KEYS.map((one) => `| \`${one.shown}\` | ${one.words} |`).join('\n');
    expect(README).toContain(`| key | does |\n| --- | --- |\n${grid}\n`);
  });

  it('lists every command of the help, the operator’s first', () => {
    const groups = holdreg('--help').split(/^For the (operator|engineer):$/m);
    const listed = README.split(/^For the (operator|engineer):$/m);
    for (const [group, at] of [
      ['operator', 2],
      ['engineer', 4],
    ] as const) {
      expect([groups[at - 1], listed[at - 1]]).toEqual([group, group]);
      const helped = all(groups[at] ?? '', /^ {2}([a-z]+) /gm);
      const told = all((listed[at] ?? '').split('\n#')[0] ?? '', /^\| `holdreg ([a-z]+)` \|/gm);
      expect([...told].sort(), group).toEqual([...helped].sort());
    }
  });

  it('names only options that the command has', () => {
    const lines = [
      ...all(README, /`holdreg ([a-z][^`]*)`/g),
      ...blocks(README, 'sh').flatMap((block) => all(block, /^holdreg ([a-z].*)$/gm)),
      ...all(README, /^ {4}holdreg ([a-z].*)$/gm),
    ];
    expect(lines.length).toBeGreaterThan(20);
    const helps = new Map<string, string>();
    for (const line of lines) {
      const command = line.split(' ')[0] ?? '';
      const help = helps.get(command) ?? holdreg(command, '--help');
      helps.set(command, help);
      for (const option of all(` ${line.split('#')[0] ?? ''}`, / (--[a-z-]+)/g))
        expect(help, `holdreg ${line}`).toMatch(new RegExp(`${option}[ ,\\n]`));
    }
  });

  it('the shift from the shell goes as written', () => {
    const data = mkdtempSync(join(tmpdir(), 'holdreg-test-'));
    try {
      const shift = blocks(README, 'sh').find((block) => block.includes('--no-board')) ?? '';
      const said = all(shift, /^holdreg (.*)$/gm).map((line) =>
        execFileSync(process.execPath, [CLI, ...line.split(' '), '--data', data], {
          encoding: 'utf8',
          cwd: ROOT,
          stdio: ['ignore', 'pipe', 'pipe'],
        }),
      );
      expect(said.length).toBeGreaterThan(5);
      expect(said.at(-1)).toContain('HANDOVER');
      expect(said.at(-1)?.replace(/\s+/g, ' ')).toContain(
        '4 grey advanced 10 divisions (0.20 mm); the print moved 0.20 mm ahead: it took',
      );
    } finally {
      rmSync(data, { recursive: true, force: true });
    }
  }, 120_000);

  it('its press and job are taken as they stand', () => {
    const [pressText = '', jobText = ''] = blocks(README, 'json').filter((one) => /"(press|job)\/1"/.test(one));
    const press = readPress(pressText, 'README press');
    expect(press.ok ? 'taken' : press.problem.message).toBe('taken');
    if (!press.ok) return;
    const job = readJob(jobText, 'README job', press.value);
    expect(job.ok ? 'taken' : job.problem.message).toBe('taken');
  });

  it('its fault file can be played', () => {
    const [fault = ''] = blocks(README, 'json').filter((one) => one.includes('"fault/1"'));
    const read = readFault(fault, 'README fault', 1);
    expect(read.ok ? 'taken' : read.problem.message).toBe('taken');
  });

  it('its readings have the columns and kinds there are', () => {
    const [csv = ''] = blocks(README, 'csv');
    expect(csv.split('\n')[0]).toBe(COLUMNS.join(','));
    const kinds = /^Kinds: ([\s\S]*?)\./m.exec(README)?.[1] ?? '';
    expect(all(kinds, /`([a-z]+)`/g)).toEqual([...KINDS]);
    const run = text('demo-data/run.csv').split(/\r?\n/);
    for (const row of csv.trim().split('\n')) expect(run).toContain(row);
  });

  it('the library exports what it imports', async () => {
    const doors: Readonly<Record<string, object>> = {
      holdregister: await import('../src/index.js'),
      'holdregister/stats': await import('../src/core/spc/index.js'),
    };
    const imports = [...README.matchAll(/^import \{ ([^}]+) \} from '([^']+)';$/gm)];
    expect(imports.length).toBe(2);
    for (const [, names = '', door = ''] of imports)
      for (const name of names.split(', ')) expect(Object.keys(doors[door] ?? {}), door).toContain(name);
  });
});

describe('DEVELOPERS', () => {
  it('draws the import rules that are held', () => {
    const rules = /const MAY[^=]*= \{([\s\S]*?)\n\};/.exec(text('tests/import-rules.test.ts'))?.[1] ?? '';
    const rooms = [...rules.matchAll(/^\s*'?([\w-]+)'?: \[([^\]]*)\]/gm)];
    expect(rooms.length).toBeGreaterThan(10);
    for (const [, room = '', may = ''] of rooms) {
      const names = all(may, /'([\w-]+)'/g)
        .map((name) => `\`${name}\``)
        .join(' ');
      expect(DEVELOPERS).toContain(`| \`${room}\` | ${names === '' ? 'nothing' : names} |`);
    }
  });

  it('names every bench', () => {
    const named = /^`npm run bench`[^.]*\.\s+Rooms: ([\s\S]*?)\./m.exec(DEVELOPERS)?.[1] ?? '';
    const list = /const ALL[\s\S]*?= \{\n([\s\S]*?)\n\};/.exec(text('tests/bench/index.ts'))?.[1] ?? '';
    expect(all(named, /`([a-z-]+)`/g)).toEqual(all(list, /^ {2}'?([a-z-]+)'?:/gm));
  });

  it('names every published case, and none that is not there', () => {
    const table = /^\| method \| cases \|[\s\S]*?\n\n/m.exec(DEVELOPERS)?.[0] ?? '';
    const named = all(table, /`([^`]+)`/g).filter((name) => !name.startsWith('tests/'));
    expect([...named].sort()).toEqual([...publishedIds].sort());
  });

  it('the test that holds a bug has the title it is said to have', () => {
    const table = /^\| bug \| held by \|[\s\S]*$/m.exec(text('tests/README.md'))?.[0] ?? '';
    const held = [...table.matchAll(/\| `(tests\/[^`]+)`: (.+) \|$/gm)];
    expect(held.length).toBe(table.trim().split('\n').length - 2);
    for (const [, file = '', title = ''] of held) expect(text(file), file).toContain(title);
  });
});
