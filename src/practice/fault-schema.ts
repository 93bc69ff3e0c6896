import { z } from 'zod';
import { above0, between, idSchema, nameSchema } from '../core/press-schema.js';

export const CAUSE_KINDS = ['creep', 'slip', 'tooth', 'tension', 'unwind', 'warm-up', 'dirt', 'misread'] as const;

const counter = z.number().int().min(0).max(50_000).describe('a whole counter value of metres from 0 to 50000');
const axis = z.enum(['along', 'across']).describe('"along" or "across"');
const register = between(-50, 50, 'mm of the print, + ahead / + operator side');
const perMetre = between(-1, 1, 'mm for each metre of web path, + ahead');
const text = z
  .string()
  .regex(/^[^\u0000-\u001f\u007f-\u009f]{1,400}$/)
  .describe('text of 1 to 400 characters in double quotes');

const cause = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('creep'),
      station: idSchema,
      axis,
      from_m: counter,
      mm_per_km: between(-5, 5, 'mm a kilometre'),
      held: z
        .boolean()
        .describe('true: the creep ends when the knob is turned, as its lock is done up then')
        .optional(),
    }),
    z.strictObject({ kind: z.literal('slip'), station: idSchema, axis, at_m: counter, mm: register }),
    z.strictObject({
      kind: z.literal('tooth'),
      station: idSchema,
      at_m: counter,
      teeth: z.int().min(-10).max(10).describe('a whole number of gear teeth from -10 to 10'),
    }),
    z.strictObject({ kind: z.literal('tension'), at_m: counter, mm_per_m: perMetre }),
    z.strictObject({ kind: z.literal('unwind'), mm_per_m: perMetre }),
    z.strictObject({
      kind: z.literal('warm-up'),
      at_m: counter,
      mm_per_m: perMetre,
      over_m: above0(50_000, 'metres until it has come back'),
    }),
    z.strictObject({
      kind: z.literal('dirt'),
      station: idSchema,
      from_m: counter,
      flaws_per_km: above0(100, 'print flaws a label more each kilometre'),
    }),
    z.strictObject({ kind: z.literal('misread'), station: idSchema, axis, at_m: counter, mm: register }),
  ])
  .describe(
    'a block with "kind": "creep", "slip", "tooth", "tension", "unwind", "warm-up", "dirt" or "misread", and the keys of that kind',
  );

/** The shape of an instructor's fault file, key by key; the descriptions are what refusals and the README say is allowed. */
export const faultSchema = z
  .strictObject({
    format: z.literal('fault/1').describe('"fault/1"'),
    name: nameSchema,
    task: text.optional(),
    to_m: z.int().min(50).max(50_000).describe('a whole number of metres from 50 to 50000, where the exercise ends'),
    make_ready: z.boolean().describe('true: begins in make-ready; false: passed and running').optional(),
    standing: z.boolean().describe('true: make-ready begins at a standstill, print off').optional(),
    out: z
      .record(idSchema, z.strictObject({ along_mm: register.optional(), across_mm: register.optional() }))
      .describe('stations by id with along_mm and across_mm, where each stands at the start')
      .optional(),
    splices_m: z
      .array(counter)
      .max(50)
      .describe('a list of counter values at which new stock is spliced in')
      .optional(),
    causes: z.array(cause).max(20).describe('a list of up to 20 causes').optional(),
    play: z
      .array(z.strictObject({ station: idSchema, axis, slack_mm: above0(2, 'mm lost when the knob is reversed') }))
      .max(20)
      .describe('a list of knobs that have play')
      .optional(),
  })
  .meta({
    title: 'holdregister fault file',
    description: 'an exercise of the practice press, as an instructor writes it',
  });

export type FaultFile = z.infer<typeof faultSchema>;
