import { z } from 'zod';
import { above0, between, idSchema, nameSchema } from './press-schema.js';

const whole = (low: number, high: number, what: string) =>
  z.int().min(low).max(high).describe(`a whole number of ${what} from ${low} to ${high}`);
const limit = above0(50, 'mm each way from the aim');
const aim = between(-50, 50, 'mm, + ahead / + operator side').optional();
const limits = z.strictObject({ along_mm: limit.optional(), across_mm: limit.optional() });
const words = (what: string) => z.string().trim().min(1).max(200).describe(what);
const spread = above0(10, 'mm (1 sigma)');

/** The shape of a job file, key by key; the descriptions are what refusals and the JSON Schema say is allowed. */
export const jobSchema = z
  .strictObject({
    format: z.literal('job/1').describe('"job/1"'),
    name: nameSchema,
    order: words('the order number').optional(),
    customer: words('who ordered it').optional(),
    quantity: whole(1, 1_000_000_000, 'labels ordered').optional(),
    substrate: words('what is printed on').optional(),
    substrate_lot: words('its lot').optional(),
    plate_set: words('the set of plates').optional(),
    die_number: words('the die').optional(),
    extra: z
      .record(z.string().min(1).max(60), z.string().max(500))
      .describe('any other words the shop wants on its papers, by name; kept as text')
      .optional(),
    units: z
      .strictObject({
        register: z.enum(['mm', 'in', 'thou', '64ths']).describe('"mm", "in", "thou" or "64ths"').optional(),
        length: z.enum(['m', 'ft', 'repeats']).describe('"m", "ft" or "repeats"').optional(),
      })
      .optional(),
    repeat_teeth: whole(4, 2000, 'gear teeth in the printing repeat'),
    labels_across: whole(1, 1000, 'labels side by side').optional(),
    labels_around: whole(1, 1000, 'labels in a repeat').optional(),
    marks: z.enum(['label', 'waste', 'trim']).describe('"label", "waste" or "trim"').optional(),
    reference: idSchema.optional(),
    stations: z
      .array(
        z.strictObject({
          id: idSchema,
          ink: nameSchema.optional(),
          aim: z.strictObject({ along_mm: aim, across_mm: aim }).optional(),
          ink_lot: words('the lot of its ink').optional(),
          anilox: words('its anilox, as the shop names it').optional(),
          read: z.enum(['measure', 'look', 'never']).describe('"measure", "look" or "never"').optional(),
        }),
      )
      .min(1)
      .max(40)
      .describe('a list of 1 to 40 stations'),
    tolerance: z.strictObject({
      print: limits.optional(),
      die: limits.optional(),
      stations: z.record(idSchema, limits).optional(),
    }),
    pairs: z
      .array(
        z.strictObject({
          stations: z.tuple([idSchema, idSchema]).describe('a list of two station ids'),
          along_mm: limit.optional(),
          across_mm: limit.optional(),
        }),
      )
      .max(400)
      .describe('a list of pairs of stations with their tolerance')
      .optional(),
    reading: z
      .strictObject({
        resolution_mm: above0(5, 'mm, the smallest step that is read').optional(),
        spread_mm: z
          .union([spread, z.strictObject({ along: spread.optional(), across: spread.optional() })])
          .describe('a number of mm (1 sigma), or one for each of along and across')
          .optional(),
        spread_worth_checks: between(0.1, 1_000_000, 'checks of evidence').optional(),
      })
      .optional(),
    checks: z
      .strictObject({
        every_roll: z.boolean().describe('true or false').optional(),
        every_m: above0(1_000_000, 'metres').optional(),
        every_min: above0(10_000, 'minutes').optional(),
      })
      .optional(),
    sensor_checks: z
      .strictObject({
        every_repeats: whole(1, 1_000_000, 'repeats in one sensor check').optional(),
        every_m: above0(100_000, 'metres in one sensor check').optional(),
        every_s: above0(86_400, 'seconds in one sensor check').optional(),
        marks_per_repeat: whole(1, 1000, 'marks of a station that the sensor reads in one repeat').optional(),
        fewest_good: whole(1, 1_000_000, 'good readings that a station needs in a sensor check').optional(),
      })
      .describe('how the repeats of a sensor become checks: every_repeats, every_m or every_s')
      .optional(),
    bring_in: between(0.05, 1, 'the tolerance to which make-ready brings a station in, as a part of it,').optional(),
    settle_m: between(0, 100_000, 'metres').optional(),
    finished_roll_m: above0(1_000_000, 'metres').optional(),
    false_notice: z
      .strictObject({ keyed: between(10, 1e9, 'checks').optional(), sensor: between(10, 1e9, 'checks').optional() })
      .optional(),
  })
  .meta({
    title: 'holdregister job file',
    description: 'a job: stations and inks, tolerances, how register is read and when it is checked',
  });

export type JobFile = z.infer<typeof jobSchema>;
