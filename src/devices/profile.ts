import { z } from 'zod';
import { CounterRule, Fields, Limits, ReadingRule } from './profile-fields.js';
import { ChecksumRule, Frame } from './profile-frame.js';
import { BytesToSend, PortSettings, Talk } from './profile-port.js';

const Wire = {
  line: z.string().max(4096).optional(),
  hex: z
    .string()
    .regex(/^[0-9a-fA-F ]+$/)
    .optional(),
};

/** A message as it comes off the wire (terminator included) and what it means. */
const Example = z.strictObject({
  ...Wire,
  gives: z.union([
    z.literal(['heartbeat', 'ignored']),
    z.array(
      z.strictObject({
        station: z.string(),
        along_mm: z.number().nullable().optional(),
        across_mm: z.number().nullable().optional(),
        strength: z.number().nullable().optional(),
        width_mm: z.number().nullable().optional(),
      }),
    ),
  ]),
  counter_m: z.number().nullable().optional(),
});

/** Why a message can be refused. */
export const REFUSALS = [
  'form',
  'too long',
  'half',
  'encoding',
  'control bytes',
  'checksum',
  'fields',
  'number',
  'range',
  'jump',
  'station',
  'status',
] as const;
export type Refusal = (typeof REFUSALS)[number];

const Refused = z.strictObject({ ...Wire, why: z.enum(REFUSALS) });

/**
 * How one kind of sensor talks: everything needed to open its port, take messages off the wire, check them and know what they mean.
 * The examples are the profile's own tests: a profile that does not understand them, or takes a line it should refuse, is not used.
 */
export const Profile = z.strictObject({
  $schema: z.string().optional(),
  format: z.literal('device/1').describe('"device/1"'),
  name: z.string().min(1).max(60).describe('a name of up to 60 characters'),
  about: z.string().max(1000).optional(),
  port: PortSettings.prefault({}),
  talk: Talk.default({ mode: 'push' }),
  /** Sent after opening, and before closing. */
  start: z.array(BytesToSend).max(16).default([]),
  stop: z.array(BytesToSend).max(16).default([]),
  frame: Frame,
  /** `hex-pairs`: the body is bytes written as hex digits (Modbus ASCII). */
  body: z.enum(['plain', 'hex-pairs']).describe('"plain" or "hex-pairs"').default('plain'),
  encoding: z
    .enum(['ascii', 'utf8', 'latin1', 'binary'])
    .describe('"ascii", "utf8", "latin1" or "binary"')
    .default('ascii'),
  checksum: ChecksumRule.optional(),
  /** Messages that are no readings, told by how they begin. */
  other: z
    .array(z.strictObject({ starts: z.string().min(1).max(32), is: z.enum(['heartbeat', 'ignored']) }))
    .max(32)
    .default([]),
  fields: Fields,
  /** Fields that carry a fixed text (a sentence's tag, a version): anything else is refused. */
  must: z
    .array(z.strictObject({ field: z.string(), is: z.array(z.string().max(32)).min(1) }))
    .max(16)
    .default([]),
  decimal: z.enum(['.', ',']).describe('"." or ","').default('.'),
  /** Texts that mean "no value", beside a blank. */
  missing: z.array(z.string().max(32)).default([]),
  readings: z.array(ReadingRule).min(1).max(64).describe('a list of what a message says, at least one'),
  counter: CounterRule.optional(),
  /** Metres of web path from the unwind where the sensor looks; the press file's sensor_m when not given. */
  sensor_m: z.number().min(0).describe('metres of web path from the unwind').optional(),
  limits: Limits.prefault({}),
  /** Messages a second at full speed; ten times as many is a flood. */
  expect_per_s: z.number().min(0.01).max(5000).describe('messages a second, 0.01 to 5000').default(50),
  /** Nothing for this long is silence. */
  stale_ms: z.int().min(200).max(600_000).describe('whole milliseconds from 200 to 600000').default(3000),
  /** The very same value of a station this often in a row is a stuck sensor; 0 = never. */
  stuck_after: z.int().min(0).max(100_000).describe('how many times, 0 = never').default(0),
  examples: z.array(Example).min(1).max(100).describe('a list of at least one message and what it gives'),
  refused: z.array(Refused).min(1).max(100).describe('a list of at least one message that must be refused, and why'),
});
export type Profile = z.output<typeof Profile>;
