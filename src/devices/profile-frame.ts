import { z } from 'zod';

/** Bytes that mark a place on the wire, as text with JSON escapes; every character is one byte. */
const Mark = z
  .string()
  .min(1)
  .max(4)
  .refine((text) => !/[^\u0000-\u00ff]/.test(text), 'one byte a character (\\u0000 to \\u00ff)')
  .describe('one to four bytes as text with JSON escapes, as "\\r\\n" or "\\u0002"');

const MaxBytes = z.int().min(4).max(4096).describe('the longest message in bytes, 4 to 4096').default(256);

/**
 * Where a message begins and ends. `line` ends at a terminator ("line-break" takes CR, LF or both); `between` has start and end bytes
 * and perhaps bytes after the end (a check byte after ETX); `length` has a fixed length; `silence` ends when nothing comes for a while.
 */
export const Frame = z
  .discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('line'), end: z.union([Mark, z.literal('line-break')]), max_bytes: MaxBytes }),
    z.strictObject({
      kind: z.literal('between'),
      start: Mark,
      end: Mark,
      after_end: z
        .int()
        .min(0)
        .max(8)
        .describe('how many bytes belong to the message behind its end mark, 0 to 8')
        .default(0),
      max_bytes: MaxBytes,
    }),
    z.strictObject({
      kind: z.literal('length'),
      bytes: z.int().min(1).max(4096).describe('the length of every message in bytes, 1 to 4096'),
      start: Mark.optional(),
    }),
    z.strictObject({
      kind: z.literal('silence'),
      gap_ms: z.int().min(1).max(1000).describe('whole milliseconds from 1 to 1000'),
      max_bytes: MaxBytes,
    }),
  ])
  .describe('a block with "kind": "line", "between", "length" or "silence"');
export type Frame = z.output<typeof Frame>;

/** A check value every message carries. A message whose value does not match is never used. */
export const ChecksumRule = z.strictObject({
  kind: z
    .enum(['xor', 'sum-8', 'lrc', 'crc-8', 'crc-16-modbus', 'crc-16-ccitt', 'crc-16-xmodem'])
    .describe('"xor", "sum-8", "lrc", "crc-8", "crc-16-modbus", "crc-16-ccitt" or "crc-16-xmodem"'),
  /** Two or four hex digits, or the raw byte or bytes. */
  form: z.enum(['hex', 'bytes']).describe('"hex" or "bytes"').default('hex'),
  order: z.enum(['high-first', 'low-first']).describe('"high-first" or "low-first"').default('high-first'),
  /** Text that stands before it ("*"); without, it is simply the last of the message. */
  after: Mark.optional(),
  /** What is summed besides the body: the start mark, the text of `after`, the end mark. */
  includes: z
    .array(z.enum(['start', 'after', 'end']))
    .describe('a list of "start", "after", "end"')
    .default([]),
  /** `after-end`: the value stands behind the end mark (frame.after_end bytes). */
  place: z.enum(['in-body', 'after-end']).describe('"in-body" or "after-end"').default('in-body'),
});
export type ChecksumRule = z.output<typeof ChecksumRule>;
