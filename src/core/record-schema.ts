import { z } from 'zod';

/*
 * Every record but the first, for entries that come from outside (the NDJSON of `holdreg export`). What the program writes itself is checked by its
 * types; the first record carries a whole press and job, which are read from their own files.
 */

const m = z.number().min(-1e7).max(1e7);
const mm = z.number().min(-5000).max(5000);
const text = z.string().max(20_000);
const name = z.string().max(2_000);
const check = z.union([z.int(), name]);
const axis = z.enum(['along', 'across']);
const count = z.int().nonnegative();
const at = <T extends z.ZodRawShape>(type: string, more: T) =>
  z.strictObject({ type: z.literal(type), web_m: m, counter: z.literal('estimated').optional(), ...more });

const reading = z.strictObject({
  station: name,
  along_mm: mm.nullable(),
  across_mm: mm.nullable(),
  look: z.enum(['in', 'off']).nullable(),
  edge: z.enum(['operator', 'gear']).nullable(),
  plate: z.enum(['clean', 'building', 'dirty']).nullable(),
  flaws: count.nullable(),
  labels: count.nullable(),
  flaw_kind: z.enum(['fill-in', 'speck', 'halo', 'dried ink', 'void']).nullish(),
  flaw_edge: z.enum(['leading', 'trailing']).nullish(),
  flaw_comes: z.enum(['same place', 'moves']).nullish(),
  n: count.optional(),
  spread_mm: z.strictObject({ along: mm.nullable(), across: mm.nullable() }).optional(),
  strength: z.number().nullish(),
  width_mm: z.number().nullish(),
  note: text.optional(),
});

/** Body of a record other than `begin`. */
export const recordBodySchema = z.discriminatedUnion('type', [
  at('pull', {
    check,
    roll: name.nullable(),
    counter: z.enum(['keyed', 'estimated']),
    age_s: z.number().optional(),
    place: name.nullable(),
  }),
  at('check', {
    check,
    roll: name.nullable(),
    pulled_at: z.iso.datetime().nullable(),
    source: z.enum(['keyed', 'sensor']),
    place: name.nullable(),
    readings: z.array(reading),
    note: text.optional(),
  }),
  at('ok', {
    zero_m: m.nullable(),
    passed_by: name,
    check: check.nullable(),
    hold_to: z.enum(['aim', 'sample']),
  }),
  at('correction', {
    station: name,
    axis,
    move_mm: mm,
    teeth: z.int().nullable(),
    divisions: z.number().nullable(),
    trial: z.literal(true).optional(),
  }),
  at('knob', {
    station: name,
    axis,
    division_mm: z.number().gt(0).max(10),
    sense: z.union([z.literal(1), z.literal(-1)]),
    divisions: z.number().min(-1e4).max(1e4),
    before_check: check,
    after_check: check,
  }),
  at('roll', {
    length_m: m.nullable(),
    stock: name.optional(),
    lot: name.optional(),
    roll: name.nullish(),
    also_finished: z.boolean().optional(),
  }),
  at('finished', { roll: name }),
  at('wash', { station: name }),
  at('speed', { m_per_min: z.number() }),
  at('stop', {}),
  at('start', { m_per_min: z.number().optional() }),
  at('plate', { station: name }),
  at('die', {}),
  at('reference', { station: name }),
  at('tolerance', { station: name, along_mm: mm.nullable(), across_mm: mm.nullable() }),
  at('web-set', { what: z.enum(['tension', 'dryer', 'stock', 'web guide']), looked_to: text.optional() }),
  at('seen', {}),
  z.strictObject({
    type: z.literal('withdraw'),
    check: check.nullable(),
    entry: count.nullable(),
    web_m: m.nullable(),
    why: text.optional(),
  }),
  at('counter', { offset_m: m }),
  at('position', {}),
  at('shift', {
    outgoing: name,
    incoming: name.nullable(),
    note: text.nullable(),
    points: z.array(z.strictObject({ text, read_back: z.boolean() })).optional(),
    page: z.strictObject({ number: count, entries: count, head: z.string().regex(/^[0-9a-f]{64}$/) }).optional(),
  }),
  z.strictObject({
    type: z.literal('note'),
    web_m: m.nullable(),
    text,
    station: name.optional(),
    clock_ms: z.number().optional(),
  }),
  z.strictObject({
    type: z.literal('sensor'),
    state: z.enum(['attached', 'lost', 'back', 'silent', 'noisy', 'flooding', 'detached']),
    port: name,
    detail: text,
  }),
  z.strictObject({
    type: z.literal('hold'),
    from_m: m,
    to_m: m,
    rolls: z.array(name),
    state: z.enum(['hold', 're-inspect', 'released', 'reworked', 'scrapped']),
    by_second: name.optional(),
    note: text.optional(),
  }),
  z.strictObject({
    type: z.literal('held'),
    rolls: z.array(name),
    from_m: m.nullable(),
    to_m: m.nullable(),
    why: text,
  }),
  at('end', {}),
]);

/** What every record carries besides. */
export const recordHeadSchema = z.object({
  v: z.union([z.literal(1), z.literal(2)]),
  seq: z.int().positive(),
  at: z.iso.datetime(),
  by: name,
});
