import { z } from 'zod';

/** What a run's log is, in two values: whoever keeps them apart from the log can prove later that it was not altered. */
export const sealSchema = z.strictObject({
  format: z.literal('seal/1'),
  run: z.string(),
  entries: z.int().nonnegative(),
  head: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .describe('SHA-256 chain behind the last of them'),
  sealed_at: z.iso.datetime(),
});

export type Seal = z.infer<typeof sealSchema>;
