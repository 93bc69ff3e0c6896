import { z } from 'zod';
import { handoverSchema } from './handover-schema.js';

const stretch = z.strictObject({ m: z.number(), min: z.number() });

/** The run report as data: the handover over the whole run, and what only a whole run can say. Metres, millimetres, hours, minutes. */
export const runReportSchema = z.strictObject({
  format: z.literal('run-report/1'),
  handover: handoverSchema,
  running_h: z.number().describe('Hours that the press ran after OK to run'),
  held_m: z.number(),
  out_of_register: z.strictObject({
    surely: stretch.describe('Checks at both ends were out'),
    at_most: stretch.describe('One of the checks at its ends was out'),
  }),
  warnings: z.strictObject({
    total: z.number(),
    each_hour: z.number().nullable().describe('null = the press ran too short to say'),
    most_in_10_min: z.number(),
  }),
  checks: z.strictObject({
    made: z.number(),
    late: z.number(),
    missed: z.number(),
    missed_at: z.array(z.strictObject({ web_m: z.number(), why: z.string() })),
  }),
  saved: z
    .array(
      z.strictObject({ movement: z.number(), plain_chart_m: z.number(), held_m: z.number(), at_least: z.boolean() }),
    )
    .describe('Estimate: what would have been held with a plain three-sigma chart on the same readings'),
  knobs: z.array(
    z.strictObject({
      station: z.string(),
      axis: z.enum(['along', 'across']),
      turns: z.number(),
      gain_plus: z.number(),
      gain_minus: z.number(),
      backlash_mm: z.number(),
    }),
  ),
  advice: z.array(z.string()).describe('For the next run of this job'),
});

export type RunReportData = z.infer<typeof runReportSchema>;
