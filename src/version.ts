import { readFileSync } from 'node:fs';

/** Version of this program, from its package. */
export const version = (): string => {
  const found = JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8')) as { version: string };
  return found.version;
};
