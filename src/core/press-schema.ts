import { z } from 'zod';

/** The shape of a press file, key by key; the descriptions are what refusals and the JSON Schema say is allowed. */
export const idSchema = z
  .string()
  .regex(/^[\p{L}\p{N}][\p{L}\p{N} ._-]{0,15}$/u)
  .refine((id) => !(id in {}) && id.trim() === id)
  .describe('text of 1 to 16 letters, digits, space, point, - or _, in double quotes');

export const nameSchema = z
  .string()
  .regex(/^[^\u0000-\u001f\u007f-\u009f]{1,80}$/)
  .refine((name) => name.trim() !== '')
  .describe('text of 1 to 80 characters in double quotes');

/** A number within bounds, described with its unit. */
export const between = (low: number, high: number, unit: string) =>
  z.number().min(low).max(high).describe(`a number of ${unit} from ${low} to ${high}`);

/** A number more than zero. */
export const above0 = (high: number, unit: string) =>
  z.number().gt(0).max(high).describe(`a number of ${unit}, more than 0 and at most ${high}`);

const place = between(0, 1000, 'metres of web path from the unwind');
const division = above0(10, 'mm of print movement for one division');
const travel = above0(200, 'mm that the knob can go each way from centre');
const centred = z
  .boolean()
  .describe('true or false: whether this knob is centred before each run, so that its travel left is known');
const sense = z
  .union([z.literal(1), z.literal(-1)])
  .describe("1, or -1 when the knob's own mark says the opposite of what the print does");
const word = z
  .string()
  .regex(/^[^\u0000-\u001f\u007f-\u009f]{1,20}$/)
  .describe('what this press calls a division, text of 1 to 20 characters');
const running = z.boolean().describe('true or false: whether this knob may be turned on a running press');
const hand = z.enum(['clockwise', 'anticlockwise']);

const knobShared = {
  division_mm: division.optional(),
  travel_mm: travel.optional(),
  centred: centred.optional(),
  sense: sense.optional(),
  word: word.optional(),
  while_running: running.optional(),
};
const alongKnob = z.strictObject({
  ...knobShared,
  to_advance: hand.describe('"clockwise" or "anticlockwise": what the hand does to advance the print').optional(),
});
const acrossKnob = z.strictObject({
  ...knobShared,
  to_operator: hand
    .describe('"clockwise" or "anticlockwise": what the hand does to move the print to the operator side')
    .optional(),
});

const stationSchema = z.strictObject({
  id: idSchema,
  kind: z.enum(['print', 'die']).describe('"print" or "die"'),
  at_m: place.optional(),
  fixed: z
    .array(z.enum(['along', 'across']).describe('"along" or "across"'))
    .max(2)
    .describe('a list of the axes on which the station cannot be moved: "along", "across"')
    .optional(),
  along: alongKnob.optional(),
  across: acrossKnob.optional(),
});

export const pressSchema = z
  .strictObject({
    format: z.literal('press/1').describe('"press/1"'),
    name: nameSchema,
    gear: z.string().max(60).describe('the gear system by name, as "1/8 in CP" or "10 DP"').optional(),
    tooth_mm: between(0.1, 100, 'mm that the print moves for one gear tooth').optional(),
    web_runs: z
      .enum(['left-to-right', 'right-to-left'])
      .describe('"left-to-right" or "right-to-left", seen from the operator side')
      .optional(),
    roll_change: z.enum(['running', 'stops']).describe('"running" or "stops"').optional(),
    spacing_m: above0(100, 'metres from each station to the next').optional(),
    stations: z.array(stationSchema).min(1).max(40).describe('a list of 1 to 40 stations'),
    sample_m: place,
    samples: z
      .record(idSchema, place)
      .describe('names of other sample places with their metres of web path')
      .optional(),
    sensor_m: place.optional(),
    knobs: z.strictObject({ along: alongKnob.optional(), across: acrossKnob.optional() }).optional(),
    helix_deg: between(-60, 60, 'degrees').optional(),
  })
  .meta({
    title: 'holdregister press file',
    description: 'a press: its gears, stations along the web path and register knobs',
  });

export type PressFile = z.infer<typeof pressSchema>;
