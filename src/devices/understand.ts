import { visible } from '../core/quoted.js';
import type { SensorReading } from '../core/sensor-reading.js';
import { checkValue } from './check-value.js';
import type { Profile, Refusal } from './profile.js';
import type { Measure, ReadingRule } from './profile-fields.js';
import { type Piece, takeApart } from './take-apart.js';
import { wireNumber } from './wire-number.js';

/** What one message means. */
export type Understood =
  | { readonly kind: 'readings'; readonly readings: readonly SensorReading[]; readonly counter_m: number | null }
  | { readonly kind: 'heartbeat' | 'ignored' }
  | { readonly kind: 'refused'; readonly why: Refusal; readonly detail: string };

export type Understand = (body: string, trailer: string) => Understood;

/** The reader of a profile's messages: from the bytes of one message to readings in mm, or to why it is refused. It remembers nothing. */
export const understandWith = (profile: Profile): Understand => {
  const apart = takeApart(profile.fields);
  const index = new Map(apart.names.map((name, i) => [name, i] as const));
  const at = (name: string): number => index.get(name) ?? -1;
  const rules = profile.readings.map((rule) => readingWith(profile, rule, at));
  const must = profile.must.map((m) => ({ at: at(m.field), is: new Set(m.is), name: m.field }));
  const counterAt = profile.counter === undefined ? -1 : at(profile.counter.field);
  const missing = new Set(profile.missing);
  const number = (piece: Piece | undefined): number | null | undefined => numberOf(piece, profile.decimal, missing);

  return (raw, trailer) => {
    let body: string | null = raw;
    if (profile.body === 'hex-pairs') {
      body = fromHexPairs(raw);
      if (body === null) return refused('form', 'not pairs of hex digits');
    }
    if (profile.checksum !== undefined) {
      body = checkValue(profile.checksum, profile.frame, body, trailer);
      if (body === null) return refused('checksum', 'the check value does not match');
    }
    if (profile.encoding !== 'binary') {
      const text = decode(body, profile.encoding);
      if (typeof text !== 'string') return text;
      body = text;
      for (const other of profile.other) if (body.startsWith(other.starts)) return { kind: other.is };
    }
    const pieces = apart.pieces(body);
    if (pieces === null) return refused('fields', 'not the pieces the profile names');
    for (const m of must)
      if (!m.is.has(String(pieces[m.at]).trim())) return refused('fields', `${m.name} is not one of the allowed texts`);
    const readings: SensorReading[] = [];
    for (const rule of rules) {
      const reading = rule(pieces, number);
      if (reading === null) continue;
      if ('kind' in reading) return reading;
      readings.push(reading);
    }
    let counter: number | null = null;
    if (profile.counter !== undefined) {
      const value = number(pieces[counterAt]);
      if (value === undefined) return refused('number', `${profile.counter.field} is no number`);
      counter = value === null ? null : value * profile.counter.m_per_count;
      if (counter !== null && (counter < 0 || counter > 1e9))
        return refused('range', `${profile.counter.field} is out of range`);
    }
    return { kind: 'readings', readings, counter_m: counter };
  };
};

type Refused = Extract<Understood, { kind: 'refused' }>;
type NumberOf = (piece: Piece | undefined) => number | null | undefined;

const refused = (why: Refusal, detail: string): Refused => ({ kind: 'refused', why, detail });

const MM_PER = { mm: 1, um: 0.001, in: 25.4, thou: 0.0254 } as const;

/** null = this message says nothing of the station (its channel is mapped to '-'). */
const readingWith = (profile: Profile, rule: ReadingRule, at: (name: string) => number) => {
  const { station, status, strength } = rule;
  const map = typeof station === 'object' && station.map !== undefined ? new Map(Object.entries(station.map)) : null;
  const stationAt = typeof station === 'object' ? at(station.field) : -1;
  const statusAt = status === undefined ? -1 : at(status.field);
  const strengthAt = strength === undefined ? -1 : at(strength.field);
  const along = measureWith(rule.along, at);
  const across = measureWith(rule.across, at);
  const width = measureWith(rule.width, at);
  const { limits } = profile;

  return (pieces: readonly Piece[], number: NumberOf): SensorReading | Refused | null => {
    let id: string;
    if (typeof station === 'string') id = station;
    else {
      const channel = String(pieces[stationAt] ?? '').trim();
      const mapped = map === null ? channel : map.get(channel);
      if (mapped === undefined || mapped === '' || mapped.length > 20)
        return refused('station', `no station for channel ${channel.slice(0, 20)}`);
      if (mapped === '-') return null;
      id = mapped;
    }
    let found = true;
    if (status !== undefined) {
      const word = String(pieces[statusAt] ?? '').trim();
      if (status.no_mark.includes(word)) found = false;
      else if (status.fault.includes(word)) return refused('status', `the sensor reports a fault: ${word}`);
      else if (!status.good.includes(word))
        return refused('status', `status ${word.slice(0, 20)} is not in the profile`);
    }
    let strong: number | null = null;
    if (strength !== undefined) {
      const value = number(pieces[strengthAt]);
      if (value === undefined) return refused('number', `${strength.field} is no number`);
      if (value !== null) {
        strong = (value - strength.none) / (strength.full - strength.none);
        if (strong < -0.001 || strong > 1.001) return refused('range', `${strength.field} is out of range`);
        strong = Math.min(1, Math.max(0, strong));
        if (strong < limits.strength_min) found = false;
      }
    }
    const x = along(pieces, number);
    if (x === undefined) return refused('number', `${rule.along?.field} is no number`);
    const y = across(pieces, number);
    if (y === undefined) return refused('number', `${rule.across?.field} is no number`);
    const w = width(pieces, number);
    if (w === undefined) return refused('number', `${rule.width?.field} is no number`);
    if (found && x !== null && Math.abs(x) > limits.along_mm)
      return refused('range', `${rule.along?.field} is out of range`);
    if (found && y !== null && Math.abs(y) > limits.across_mm)
      return refused('range', `${rule.across?.field} is out of range`);
    if (w !== null && (w < 0 || w > 100)) return refused('range', `${rule.width?.field} is out of range`);
    return { station: id, along_mm: found ? x : null, across_mm: found ? y : null, strength: strong, width_mm: w };
  };
};

const measureWith = (measure: Measure | undefined, at: (name: string) => number) => {
  if (measure === undefined) return (): null => null;
  const index = at(measure.field);
  const factor = measure.scale * MM_PER[measure.unit] * measure.sign;
  return (pieces: readonly Piece[], number: NumberOf): number | null | undefined => {
    const value = number(pieces[index]);
    // Rounded to a tenth of a nanometre, so that 12 um is 0.012 mm and not 0.012000000000000002.
    return value === null || value === undefined
      ? value
      : factor === 1
        ? value
        : Math.round(value * factor * 1e7) / 1e7 + 0;
  };
};

const numberOf = (
  piece: Piece | undefined,
  decimal: '.' | ',',
  missing: ReadonlySet<string>,
): number | null | undefined => {
  if (typeof piece === 'number')
    return missing.size > 0 && missing.has(String(piece)) ? null : Number.isFinite(piece) ? piece : undefined;
  if (piece === undefined) return null;
  const value = wireNumber(piece, decimal);
  if (missing.size > 0 && missing.has(piece.trim())) return null;
  return value;
};

const HEX_PAIRS = /^([0-9A-F]{2})+$/;
const fromHexPairs = (text: string): string | null =>
  HEX_PAIRS.test(text) ? Buffer.from(text, 'hex').toString('latin1') : null;

const CONTROL = /[\x00-\x08\x0a-\x1f\x7f]/;
const BEYOND_ASCII = /[^\x00-\x7f]/;

const decode = (body: string, encoding: 'ascii' | 'utf8' | 'latin1'): string | Refused => {
  if (CONTROL.test(body)) return refused('control bytes', 'control bytes in a line of text');
  if (!BEYOND_ASCII.test(body)) return body;
  if (encoding === 'ascii') return refused('encoding', 'bytes beyond ASCII');
  let text = body;
  if (encoding === 'utf8') {
    try {
      text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(Buffer.from(body, 'latin1'));
    } catch {
      return refused('encoding', 'not UTF-8');
    }
  }
  return visible(text) === text
    ? text
    : refused('control bytes', 'control or text-direction characters in a line of text');
};
