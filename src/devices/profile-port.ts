import { z } from 'zod';

/** Bytes to send: text (JSON escapes such as \r or \u0002 for control bytes), or hex pairs. */
export const BytesToSend = z
  .union([
    z.string().min(1).max(256),
    z.strictObject({ hex: z.string().regex(/^[0-9a-fA-F]{2}( ?[0-9a-fA-F]{2})*$/, 'hex pairs such as "01 03 00 0A"') }),
  ])
  .describe('text with JSON escapes, as "READ?\\r", or { "hex": "01 03 00 0A" }');
export type BytesToSend = z.output<typeof BytesToSend>;

/** How the line is set on both ends; a wrong speed shows as noise. */
export const PortSettings = z.strictObject({
  baud: z.int().min(110).max(4_000_000).describe('a speed in baud, as 9600').default(9600),
  data_bits: z.literal([7, 8]).describe('7 or 8').default(8),
  parity: z
    .enum(['none', 'even', 'odd', 'mark', 'space'])
    .describe('"none", "even", "odd", "mark" or "space"')
    .default('none'),
  stop_bits: z.literal([1, 1.5, 2]).describe('1, 1.5 or 2').default(1),
  flow: z.enum(['none', 'rts-cts', 'xon-xoff']).describe('"none", "rts-cts" or "xon-xoff"').default('none'),
});
export type PortSettings = z.output<typeof PortSettings>;

/** Who speaks first: the sensor by itself (push), or we ask (poll, or Modbus RTU registers). */
export const Talk = z
  .discriminatedUnion('mode', [
    z.strictObject({ mode: z.literal('push') }),
    z.strictObject({
      mode: z.literal('poll'),
      command: BytesToSend,
      every_ms: z.int().min(10).max(60_000).describe('whole milliseconds from 10 to 60000'),
      timeout_ms: z.int().min(10).max(60_000).describe('whole milliseconds from 10 to 60000'),
      /** The sensor repeats the command before it answers; the echo is taken off. */
      echo: z.boolean().describe('true or false').default(false),
    }),
    z.strictObject({
      mode: z.literal('modbus-rtu'),
      unit: z.int().min(1).max(247).describe('a Modbus unit from 1 to 247'),
      table: z.enum(['holding', 'input']).describe('"holding" or "input"').default('holding'),
      first: z.int().min(0).max(65_535).describe('number of the first register, from 0'),
      count: z.int().min(1).max(125).describe('how many registers, 1 to 125'),
      every_ms: z.int().min(10).max(60_000).describe('whole milliseconds from 10 to 60000'),
      timeout_ms: z.int().min(10).max(60_000).describe('whole milliseconds from 10 to 60000'),
    }),
  ])
  .describe('a block with "mode": "push", "poll" or "modbus-rtu"');
export type Talk = z.output<typeof Talk>;
