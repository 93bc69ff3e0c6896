import type { SensorReading } from '../core/sensor-reading.js';
import { withCheckValue } from './check-value.js';
import type { Profile } from './profile.js';
import type { Fields, Measure, ReadingRule } from './profile-fields.js';
import { patternParts } from './take-apart.js';

/** Messages that say these readings the way a profile's sensor would, as strings of bytes. */
export type Say = (readings: readonly SensorReading[], counter_m: number | null) => readonly string[];

/** The other way round of understanding: what a sensor of this profile sends. The simulated press and the tests speak with it. */
export const sayWith = (profile: Profile): Say => {
  const oneALine = profile.readings.some((rule) => typeof rule.station === 'object');
  return (readings, counter_m) =>
    oneALine
      ? readings.flatMap((r) => framed(profile, values(profile, [r], counter_m)))
      : framed(profile, values(profile, readings, counter_m));
};

/** A body put into the profile's frame with its check value. */
export const frameBody = (profile: Profile, plain: string): string => {
  const { frame, checksum } = profile;
  const checked = checksum === undefined ? { body: plain, trailer: '' } : withCheckValue(checksum, frame, plain);
  const body =
    profile.body === 'hex-pairs' ? Buffer.from(checked.body, 'latin1').toString('hex').toUpperCase() : checked.body;
  switch (frame.kind) {
    case 'line':
      return body + (frame.end === 'line-break' ? '\r\n' : frame.end);
    case 'between':
      return frame.start + body + frame.end + checked.trailer;
    case 'length':
      return (frame.start ?? '') + body;
    case 'silence':
      return body;
  }
};

type Said = { readonly text: ReadonlyMap<string, string>; readonly number: ReadonlyMap<string, number> };

const framed = (profile: Profile, said: Said | null): readonly string[] =>
  said === null ? [] : [frameBody(profile, join(profile, said))];

const MM_PER = { mm: 1, um: 0.001, in: 25.4, thou: 0.0254 } as const;
const PLACES = { mm: 3, um: 0, in: 5, thou: 2 } as const;

/** null when the profile has no place for any of the readings. */
const values = (profile: Profile, readings: readonly SensorReading[], counter_m: number | null): Said | null => {
  const text = new Map<string, string>();
  const number = new Map<string, number>();
  let said = false;
  const none = (field: string): string => profile.missing.find((m) => m.length <= roomFor(profile.fields, field)) ?? '';
  const put = (field: string, value: number | null, places: number): void => {
    number.set(field, value ?? 0);
    text.set(field, value === null ? none(field) : value.toFixed(places).replace('.', profile.decimal));
  };
  for (const must of profile.must) text.set(must.field, must.is[0] ?? '');
  for (const rule of profile.readings) {
    const reading = readings.find((r) => channelOf(rule, r.station) !== null);
    const bad = reading === undefined || (reading.along_mm === null && reading.across_mm === null);
    if (reading !== undefined) {
      said = true;
      if (typeof rule.station === 'object') text.set(rule.station.field, channelOf(rule, reading.station) ?? '');
    }
    const measure = (m: Measure | undefined, mm: number | null): void => {
      if (m !== undefined) put(m.field, mm === null ? null : mm / (m.scale * MM_PER[m.unit] * m.sign), PLACES[m.unit]);
    };
    measure(rule.along, reading?.along_mm ?? null);
    measure(rule.across, reading?.across_mm ?? null);
    measure(rule.width, reading?.width_mm ?? null);
    if (rule.strength !== undefined) {
      const s = bad ? 0 : (reading.strength ?? 1);
      put(
        rule.strength.field,
        rule.strength.none + s * (rule.strength.full - rule.strength.none),
        Math.abs(rule.strength.full) >= 10 ? 0 : 2,
      );
    }
    if (rule.status !== undefined)
      text.set(rule.status.field, (bad ? rule.status.no_mark[0] : undefined) ?? rule.status.good[0] ?? '');
  }
  if (profile.counter !== undefined)
    put(
      profile.counter.field,
      counter_m === null ? null : counter_m / profile.counter.m_per_count,
      profile.counter.m_per_count === 1 ? 1 : 0,
    );
  return said ? { text, number } : null;
};

/** How long a text the field can hold. */
const roomFor = (fields: Fields, field: string): number =>
  fields.kind === 'columns' ? (fields.columns.find((c) => c.name === field)?.length ?? 0) : Number.POSITIVE_INFINITY;

const channelOf = (rule: ReadingRule, station: string): string | null => {
  if (typeof rule.station === 'string') return rule.station === station ? station : null;
  if (rule.station.map === undefined) return station;
  return Object.entries(rule.station.map).find(([, to]) => to === station)?.[0] ?? null;
};

const join = (profile: Profile, { text, number }: Said): string => {
  const { fields } = profile;
  switch (fields.kind) {
    case 'delimited':
      return fields.names.map((name) => text.get(name) ?? '').join(fields.by);
    case 'columns': {
      const row = Array.from({ length: fields.width }, () => ' ');
      for (const c of fields.columns) {
        const value = (text.get(c.name) ?? '').slice(0, c.length);
        for (const [i, letter] of [...value.padStart(c.length)].entries()) row[c.from - 1 + i] = letter;
      }
      return row.join('');
    }
    case 'pattern': {
      const { names, literals } = patternParts(fields.pattern);
      return literals.map((literal, i) => literal + (text.get(names[i] ?? '') ?? '')).join('');
    }
    case 'registers':
      return registerBytes(fields, number);
  }
};

type Registers = Extract<Fields, { kind: 'registers' }>;

const registerBytes = (fields: Registers, number: ReadonlyMap<string, number>): string => {
  const wide = (type: string): boolean => type === 'int32' || type === 'uint32' || type === 'float32';
  const words = Math.max(...fields.registers.map((r) => r.at + (wide(r.type) ? 2 : 1)));
  const data = Buffer.alloc(words * 2);
  for (const r of fields.registers) {
    const value = number.get(r.name) ?? 0;
    if (!wide(r.type)) {
      data.writeUInt16BE(Math.round(value) & 0xffff, r.at * 2);
      continue;
    }
    const four = Buffer.alloc(4);
    if (r.type === 'float32') four.writeFloatBE(value);
    else four.writeUInt32BE(Math.round(value) >>> 0);
    four.copy(data, r.at * 2, r.words === 'high-first' ? 0 : 2, r.words === 'high-first' ? 2 : 4);
    four.copy(data, r.at * 2 + 2, r.words === 'high-first' ? 2 : 0, r.words === 'high-first' ? 4 : 2);
  }
  return String.fromCharCode(fields.unit, fields.function, data.length) + data.toString('latin1');
};
