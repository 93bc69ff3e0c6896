import { z } from 'zod';

/** What `holdreg verify --json` says of one run. */
export const verifySchema = z.strictObject({
  run: z.string(),
  state: z.enum(['whole', 'empty', 'repaired', 'torn', 'damaged', 'altered']),
  records: z.int().nonnegative(),
  head: z.string().nullable().describe('SHA-256 chain behind the last entry; null = it could not be read'),
  words: z.string(),
});
