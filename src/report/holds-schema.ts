import { z } from 'zod';

/** Held product roll by roll, as `holdreg holds --json` prints it. Metres at the sample place from OK to run; times ISO 8601 in UTC. */
export const holdsSchema = z.strictObject({
  format: z.literal('holds/1'),
  run: z.string(),
  rolls: z.array(
    z.strictObject({
      roll: z.string(),
      from_m: z.number().describe('Last good check: itself not held'),
      to_m: z.number().nullable().describe('First good check afterwards: itself held; null = still going on'),
      from_outside_m: z
        .strictObject({ near: z.number(), far: z.number() })
        .nullable()
        .describe('Metres from the outside of the rewound roll; null = its end is not known'),
      labels: z.number().int(),
      why: z.array(z.string()),
      state: z.enum(['hold', 're-inspect', 'released', 'reworked', 'scrapped']),
      at: z.string().nullable(),
      by: z.string().nullable(),
      by_second: z.string().nullable(),
      note: z.string().nullable(),
    }),
  ),
});
