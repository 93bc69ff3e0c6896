import { nameSchema } from '../press-schema.js';
import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';
import type { Understood } from './question.js';

/** A name as people write it: 1 to 80 characters, none of them a control character. */
export const understandName = (text: string): Result<Understood> => {
  const name = text.trim().replace(/\s+/g, ' ');
  return nameSchema.safeParse(name).success
    ? ok({ text: name })
    : fail(`${quoted(name)} cannot be a name: 1 to 80 letters, digits and signs`);
};
