import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** All TypeScript files under a folder. */
export const sourcesUnder = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name));

/** What a file names in its import and export lines, as written. */
export const importsOf = (text: string): readonly string[] =>
  [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((found) => found[1] ?? '');

/** Which of the files each file imports directly. */
export const importGraph = (files: readonly string[]): ReadonlyMap<string, readonly string[]> => {
  const known = new Set(files);
  const resolved = (from: string, name: string): readonly string[] => {
    const to = join(dirname(from), name.replace(/\.js$/, ''));
    return [`${to}.ts`, `${to}.tsx`].filter((one) => known.has(one));
  };
  return new Map(
    files.map((file) => {
      const names = importsOf(readFileSync(file, 'utf8')).filter((name) => name.startsWith('.'));
      return [file, names.flatMap((name) => resolved(file, name))];
    }),
  );
};
