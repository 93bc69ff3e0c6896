import { existsSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { parseJson } from '../../core/parse-json.js';
import { ok, type Result } from '../../core/result.js';
import { diskProblem } from '../../store/disk-problem.js';
import { jsonFile } from '../../store/json-file.js';
import { readText } from '../read-setup.js';
import type { OperatorLines } from './operator-lines.js';

/** A file to be written; `write` false = it says just that already. */
export type Wanted = { readonly path: string; readonly write: boolean; readonly overwrites: boolean };

/** Where a press or job file of this name goes in the data folder's `setup`; where another stands already, he is asked. null = he left. */
export const placeFor = async (
  dataDir: string,
  kind: 'press' | 'job',
  name: string,
  document: unknown,
  lines: OperatorLines,
): Promise<Wanted | null> => {
  const folder = join(dataDir, 'setup');
  const base = `${kind}-${slug(name)}`;
  const first = join(folder, `${base}.json`);
  if (!existsSync(first)) return { path: first, write: true, overwrites: false };
  for (let number = 1; ; number += 1) {
    const path = number === 1 ? first : join(folder, `${base}-${number}.json`);
    if (existsSync(path) && !saysJust(path, document)) continue;
    if (existsSync(path)) return { path, write: false, overwrites: false };
    lines.say(`${first} is there already and says something else.`);
    for (;;) {
      const typed = await lines.ask(`b = keep both (the new one as ${base}-${number}.json), o = overwrite it [b]`);
      if (typed === null) return null;
      const answer = typed.trim().toLowerCase();
      if (answer === '' || answer === 'b' || answer === 'both') return { path, write: true, overwrites: false };
      if (answer === 'o' || answer === 'overwrite') return { path: first, write: true, overwrites: true };
      lines.say('type b or o');
    }
  }
};

/** Written whole or not at all, owner only. */
export const writeSetupFile = async (path: string, document: unknown): Promise<Result<null>> => {
  try {
    mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
    await jsonFile(path).write(document);
    return ok(null);
  } catch (error) {
    return diskProblem(error, 'write', path);
  }
};

/** A name as part of a file name on any system. */
export const slug = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40) || 'unnamed';

const saysJust = (path: string, document: unknown): boolean => {
  const text = readText(path);
  const json = text.ok ? parseJson(text.value, path) : text;
  return json.ok && isDeepStrictEqual(json.value, JSON.parse(JSON.stringify(document)));
};
