import { z } from 'zod';

const Name = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9_]{0,30}$/, 'allowed: a short name of letters, digits and _')
  .describe('the name of a field');
const FieldName = z.union([Name, z.literal('')]);

/**
 * How a message comes apart into named pieces. `delimited`: between delimiters, in order, '' = not used. `columns`: fixed places, the first
 * character is 1. `pattern`: text with {name} where a value stands, read left to right in one pass (no regular expressions, so no pattern
 * can be slow). `registers`: 16-bit registers of a Modbus answer, `at` counted from the first one asked for.
 */
export const Fields = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('delimited'),
      by: z.string().min(1).max(4).describe('what parts the fields, one to four characters'),
      names: z.array(FieldName).min(1).max(256).describe('a list of field names in order, "" = not used'),
    }),
    z.strictObject({
      kind: z.literal('columns'),
      width: z.int().min(1).max(4096),
      columns: z
        .array(
          z.strictObject({
            name: Name,
            from: z.int().min(1).describe('a column, the first is 1'),
            length: z.int().min(1).describe('a number of columns'),
          }),
        )
        .min(1)
        .max(256),
    }),
    z.strictObject({
      kind: z.literal('pattern'),
      pattern: z.string().min(3).max(512).describe('text with {name} where a value stands'),
    }),
    z.strictObject({
      kind: z.literal('registers'),
      unit: z.int().min(1).max(247),
      function: z.literal([3, 4]).default(3),
      registers: z
        .array(
          z.strictObject({
            name: Name,
            at: z.int().min(0).max(124),
            type: z.enum(['int16', 'uint16', 'int32', 'uint32', 'float32']).default('int16'),
            words: z.enum(['high-first', 'low-first']).default('high-first'),
          }),
        )
        .min(1)
        .max(125),
    }),
  ])
  .describe('a block with "kind": "delimited", "columns", "pattern" or "registers"');
export type Fields = z.output<typeof Fields>;

const Finite = z.number().refine(Number.isFinite).describe('a number');
const Above0 = z
  .number()
  .refine((n) => n > 0 && Number.isFinite(n), 'allowed: a number above 0')
  .describe('a number above 0');

/** A length on the wire; value × scale in `unit`, `sign` −1 when the sensor counts the other way than + ahead / + operator side. */
export const Measure = z.strictObject({
  field: Name,
  unit: z.enum(['mm', 'um', 'in', 'thou']).describe('"mm", "um", "in" or "thou"').default('mm'),
  scale: Above0.default(1),
  sign: z.literal([1, -1]).describe('1 or -1').default(1),
});
export type Measure = z.output<typeof Measure>;

/** What one message says of one station. */
export const ReadingRule = z.strictObject({
  /** A fixed station, or a field whose text is the channel; `map` gives the channel's station, '-' = not used (without a map: the channel is the station). */
  station: z.union([
    z.string().min(1).max(20),
    z.strictObject({ field: Name, map: z.record(z.string(), z.string().min(1).max(20)).optional() }),
  ]),
  along: Measure.optional(),
  across: Measure.optional(),
  /** Mark strength as the sensor counts it from `none` to `full`; kept as 0 to 1. */
  strength: z.strictObject({ field: Name, none: Finite.default(0), full: Finite }).optional(),
  width: Measure.optional(),
  /** Words for a good reading, for a mark not found (counts as a bad read), for a fault of the sensor (the message is refused). */
  status: z
    .strictObject({
      field: Name,
      good: z.array(z.string().max(32)).min(1),
      no_mark: z.array(z.string().max(32)).default([]),
      fault: z.array(z.string().max(32)).default([]),
    })
    .optional(),
});
export type ReadingRule = z.output<typeof ReadingRule>;

/** A counter or encoder on the wire; metres = value × m_per_count. */
export const CounterRule = z.strictObject({
  field: Name,
  m_per_count: Above0.default(1),
});

/** What cannot be: readings beyond these are refused; below `strength_min` a reading counts as a bad read. */
export const Limits = z.strictObject({
  along_mm: Above0.default(10),
  across_mm: Above0.default(10),
  /** A reading this far from the one before is held back until the next one agrees with it. */
  jump_mm: Above0.optional(),
  strength_min: z.number().min(0).max(1).describe('a share from 0 to 1').default(0),
});
export type Limits = z.output<typeof Limits>;
