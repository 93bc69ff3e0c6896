import { z } from 'zod';

const axis = z.enum(['along', 'across']);

/** History across runs, as `holdreg history --json` prints it. Metres, millimetres. */
export const historySchema = z.strictObject({
  format: z.literal('history/1'),
  presses: z.array(
    z.strictObject({
      press: z.string(),
      runs: z.number().int(),
      made_m: z.number(),
      held_m: z.number(),
      web_movements: z.number().int(),
      causes: z.strictObject({
        station: z.number().int(),
        reference: z.number().int(),
        web: z.number().int(),
        several: z.number().int(),
      }),
      stations: z.array(
        z.strictObject({
          station: z.string(),
          movements: z.number().int(),
          per_10_km: z.number().nullable().describe('Movements for each 10 000 m; null = nothing was made'),
          times_others: z.number().nullable().describe('Its rate over that of the other stations; null = not known'),
          usual: z.enum(['step', 'ramp', 'as often a step as a drift']).nullable(),
          gain: z.array(
            z.strictObject({ axis, turns: z.number().int(), gain: z.number(), backlash_mm: z.number().nullable() }),
          ),
          ways: z
            .array(
              z.strictObject({
                axis,
                way: z.enum(['ahead', 'behind', 'operator side', 'gear side']),
                movements: z.number().int(),
                per_10_km: z.number().nullable(),
                mean_mm: z.number().describe('+ ahead / + operator side'),
                runs: z.array(z.string()).describe('The newest runs in which it moved so'),
              }),
            )
            .describe('Which way it moves on which axis'),
          dirty_runs: z.number().int().describe('Runs in which its plate was dirty at any time'),
          plate_life_m: z.number().nullable(),
        }),
      ),
      months: z.array(
        z.strictObject({ month: z.string(), made_m: z.number(), movements: z.number().int(), per_10_km: z.number() }),
      ),
    }),
  ),
});
