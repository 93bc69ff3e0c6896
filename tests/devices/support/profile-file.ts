import { readFileSync } from 'node:fs';
import type { Profile } from '../../../src/devices/profile.js';
import { readProfile } from '../../../src/devices/read-profile.js';

const folder = new URL('../../../devices/', import.meta.url);

/** The text of a profile shipped with the program. */
export const profileText = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

/** A shipped profile, with parts of its file replaced. */
export const profileFile = (name: string, change: Record<string, unknown> = {}): Profile => {
  const read = readProfile(JSON.stringify({ ...JSON.parse(profileText(name)), ...change }), name);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
