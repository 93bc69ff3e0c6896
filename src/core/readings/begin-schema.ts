import { z } from 'zod';
import type { Begin } from '../record.js';

/*
 * The first record of a run that comes from outside: the press and job that it was run with, defaults filled in. Numbers are held to what a press
 * can be, so that nothing in it can stop the program; the program never reads a press or job file in this form.
 */

const text = z.string().max(20_000);
const name = z.string().min(1).max(2_000);
const m = z.number().min(-1e7).max(1e7);
const above0 = z.number().positive().max(1e7);
const each = <T extends z.ZodType>(of: T) => z.strictObject({ along: of, across: of });
const knob = z.strictObject({
  division_mm: above0.nullable(),
  travel_mm: above0.nullable(),
  centred: z.literal(true).optional(),
  sense: z.union([z.literal(1), z.literal(-1)]),
  sense_given: z.boolean(),
  word: text,
  while_running: z.boolean().nullable(),
  hand_plus: z.enum(['clockwise', 'anticlockwise']).nullable(),
});

const press = z.strictObject({
  name,
  gear: text.nullable(),
  tooth_mm: above0,
  web_runs: z.enum(['left-to-right', 'right-to-left']),
  roll_change: z.enum(['running', 'stops']).nullable(),
  stations: z
    .array(
      z.strictObject({
        id: name,
        kind: z.enum(['print', 'die']),
        at_m: m,
        fixed: z.array(z.enum(['along', 'across'])),
        knobs: each(knob),
      }),
    )
    .min(1)
    .max(100),
  sample_m: m,
  samples: z.record(text, m),
  sensor_m: m.nullable(),
  helix_deg: z.number().min(-90).max(90),
  not_measured: z.array(text),
});

const traced = z.strictObject({
  order: text.nullable(),
  customer: text.nullable(),
  quantity: z.number().nonnegative().nullable(),
  substrate: text.nullable(),
  substrate_lot: text.nullable(),
  plate_set: text.nullable(),
  die_number: text.nullable(),
  stations: z.record(text, z.strictObject({ ink_lot: text.nullable(), anilox: text.nullable() })),
  extra: z.record(text, text),
});

const job = z.strictObject({
  name,
  units: z.strictObject({ register: z.enum(['mm', 'in', 'thou', '64ths']), length: z.enum(['m', 'ft', 'repeats']) }),
  repeat_teeth: above0,
  labels_across: above0,
  labels_around: above0,
  marks: z.enum(['label', 'waste', 'trim']),
  reference: name,
  stations: z
    .array(
      z.strictObject({
        id: name,
        ink: text.nullable(),
        aim_mm: each(z.number()),
        read: z.enum(['measure', 'look', 'never']),
      }),
    )
    .min(1)
    .max(100),
  tolerance_mm: z.record(text, each(above0)),
  pairs: z.array(
    z.strictObject({ stations: z.tuple([name, name]), tolerance_mm: each(z.number().positive().nullable()) }),
  ),
  reading: z.strictObject({ resolution_mm: above0, spread_mm: each(above0), spread_worth_checks: above0 }),
  checks: z.strictObject({ every_roll: z.boolean(), every_m: above0.nullable(), every_min: above0.nullable() }),
  sensor_checks: z
    .strictObject({
      by: z.enum(['repeats', 'metres', 'seconds']),
      size: above0,
      marks_per_repeat: above0,
      fewest_good: above0,
    })
    .optional(),
  traced: traced.optional(),
  bring_in: above0.optional(),
  settle_m: z.number().nonnegative(),
  finished_roll_m: above0.nullable(),
  false_notice: z.strictObject({ keyed: above0, sensor: above0 }),
});

/** Press and job of a first record; every station of the job and its reference stand on the press. */
export const begunSchema = z
  .looseObject({ type: z.literal('begin'), run: z.string().max(64), press, job })
  .refine(
    ({ press: on, job: of }) =>
      [of.reference, ...of.stations.map((s) => s.id)].every((id) => on.stations.some((s) => s.id === id)),
    'a station of its job is not on its press',
  );

/** Held by the compiler to what a run begins with. */
export type Begun = z.infer<typeof begunSchema>;
export const setupOf = ({ press: on, job: of }: Begun): Pick<Begin, 'press' | 'job'> => ({
  press: on as Begin['press'],
  job: of as Begin['job'],
});
