import { visible } from '../core/quoted.js';
import type { SensorReading } from '../core/sensor-reading.js';
import { checkValue } from './check-value.js';
import type { Profile, Refusal } from './profile.js';
import type { Measure, ReadingRule } from './profile-fields.js';
import type { WholeMessage } from './splitter.js';
import { type TakeApart, takeApart } from './take-apart.js';
import { wireNumber } from './wire-number.js';

/** What one message means. */
export type Understood =
  | { readonly kind: 'readings'; readonly readings: readonly SensorReading[]; readonly counter_m: number | null }
  | { readonly kind: 'heartbeat' | 'ignored' }
  | { readonly kind: 'refused'; readonly why: Refusal; readonly detail: string };

export type Understand = (message: WholeMessage) => Understood;

/** The reader of a profile's messages: from the bytes of one message to readings in mm, or to why it is refused. It remembers nothing. */
export const understandWith = (profile: Profile): Understand => {
  const pieces = piecesOf(profile, takeApart(profile.fields));
  const rules = profile.readings.map((rule) => readingWith(profile, rule, pieces));
  const must = profile.must.map((m) => ({ at: pieces.at(m.field), is: new Set(m.is), name: m.field }));
  const { other, counter: counterRule } = profile;
  const counterAt = counterRule === undefined ? -1 : pieces.at(counterRule.field);

  const copied = profile.body === 'hex-pairs' || profile.checksum !== undefined;

  return (message) => {
    let { text, from, to } = message;
    if (copied) {
      let body: string | null = text.slice(from, to);
      if (profile.body === 'hex-pairs') {
        body = fromHexPairs(body);
        if (body === null) return refused('form', 'not pairs of hex digits');
      }
      if (profile.checksum !== undefined) {
        body = checkValue(profile.checksum, profile.frame, body, message.trailer);
        if (body === null) return refused('checksum', 'the check value does not match');
      }
      text = body;
      from = 0;
      to = body.length;
    }
    let formed = pieces.take(text, from, to);
    if (profile.encoding !== 'binary') {
      const found = pieces.plain() ? 'plain' : lookThrough(text, from, to);
      if (found === 'control') return refused('control bytes', 'control bytes in a line of text');
      if (found === 'beyond ASCII') {
        const decoded = decode(text.slice(from, to), profile.encoding);
        if (typeof decoded !== 'string') return decoded;
        text = decoded;
        from = 0;
        to = decoded.length;
        formed = pieces.take(text, from, to);
      }
      for (let i = 0; i < other.length; i += 1) {
        const line = other[i];
        if (line !== undefined && to - from >= line.starts.length && text.startsWith(line.starts, from))
          return { kind: line.is };
      }
    }
    if (!formed) return refused('fields', 'not the pieces the profile names');
    for (const m of must)
      if (!m.is.has(pieces.text(m.at))) return refused('fields', `${m.name} is not one of the allowed texts`);
    const readings: SensorReading[] = [];
    for (let i = 0; i < rules.length; i += 1) {
      const reading = rules[i]?.() ?? null;
      if (reading === null) continue;
      if ('kind' in reading) return reading;
      readings.push(reading);
    }
    let counter: number | null = null;
    if (counterRule !== undefined) {
      const value = pieces.number(counterAt);
      if (value === undefined) return refused('number', `${counterRule.field} is no number`);
      counter = value === null ? null : value * counterRule.m_per_count;
      if (counter !== null && (counter < 0 || counter > 1e9))
        return refused('range', `${counterRule.field} is out of range`);
    }
    return { kind: 'readings', readings, counter_m: counter };
  };
};

type Refused = Extract<Understood, { kind: 'refused' }>;

const refused = (why: Refusal, detail: string): Refused => ({ kind: 'refused', why, detail });

/** The pieces of the message at hand, as text without blanks around it or as numbers (null = no value, undefined = no number). */
type Pieces = {
  readonly at: (name: string) => number;
  readonly take: (text: string, from: number, to: number) => boolean;
  readonly plain: () => boolean;
  readonly text: (at: number) => string;
  readonly number: (at: number) => number | null | undefined;
};

const piecesOf = (profile: Profile, apart: TakeApart): Pieces => {
  const index = new Map(apart.names.map((name, i) => [name, i] as const));
  const missing = new Set(profile.missing);
  // Where no text for "no value" looks like a number, only what is no number is looked up.
  const numeric = profile.missing.some((m) => wireNumber(m, profile.decimal) !== undefined);
  const { decimal } = profile;
  const { numbers, from, to } = apart;
  let body = '';
  const text = (at: number): string => (numbers === null ? body.slice(from[at], to[at]).trim() : String(numbers[at]));
  return {
    at: (name) => index.get(name) ?? -1,
    take: (next, begin, end) => {
      body = next;
      return apart.cut(next, begin, end);
    },
    plain: apart.plain ?? never,
    text,
    number: (at) => {
      if (numeric && missing.has(text(at))) return null;
      if (numbers === null) {
        const value = wireNumber(body, decimal, from[at], to[at]);
        return value === undefined && missing.has(text(at)) ? null : value;
      }
      const value = numbers[at];
      return value !== undefined && Number.isFinite(value) ? value : undefined;
    },
  };
};

const never = (): boolean => false;

const MM_PER = { mm: 1, um: 0.001, in: 25.4, thou: 0.0254 } as const;

/** null = this message says nothing of the station (its channel is mapped to '-'). */
const readingWith = (profile: Profile, rule: ReadingRule, pieces: Pieces): (() => SensorReading | Refused | null) => {
  const { station, status, strength } = rule;
  const map = typeof station === 'object' && station.map !== undefined ? new Map(Object.entries(station.map)) : null;
  const fixed = typeof station === 'string' ? station : null;
  const stationAt = typeof station === 'object' ? pieces.at(station.field) : -1;
  const statusAt = status === undefined ? -1 : pieces.at(status.field);
  const strengthAt = strength === undefined ? -1 : pieces.at(strength.field);
  const along = measureWith(rule.along, pieces);
  const across = measureWith(rule.across, pieces);
  const width = measureWith(rule.width, pieces);
  const { limits } = profile;

  return () => {
    let id = fixed;
    if (id === null) {
      const channel = pieces.text(stationAt);
      const mapped = map === null ? channel : map.get(channel);
      if (mapped === undefined || mapped === '' || mapped.length > 20)
        return refused('station', `no station for channel ${channel.slice(0, 20)}`);
      if (mapped === '-') return null;
      id = mapped;
    }
    let found = true;
    if (status !== undefined) {
      const word = pieces.text(statusAt);
      if (status.no_mark.includes(word)) found = false;
      else if (status.fault.includes(word)) return refused('status', `the sensor reports a fault: ${word}`);
      else if (!status.good.includes(word))
        return refused('status', `status ${word.slice(0, 20)} is not in the profile`);
    }
    let strong: number | null = null;
    if (strength !== undefined) {
      const value = pieces.number(strengthAt);
      if (value === undefined) return refused('number', `${strength.field} is no number`);
      if (value !== null) {
        strong = (value - strength.none) / (strength.full - strength.none);
        if (strong < -0.001 || strong > 1.001) return refused('range', `${strength.field} is out of range`);
        strong = Math.min(1, Math.max(0, strong));
        if (strong < limits.strength_min) found = false;
      }
    }
    const x = along();
    if (x === undefined) return refused('number', `${rule.along?.field} is no number`);
    const y = across();
    if (y === undefined) return refused('number', `${rule.across?.field} is no number`);
    const w = width();
    if (w === undefined) return refused('number', `${rule.width?.field} is no number`);
    if (found && x !== null && Math.abs(x) > limits.along_mm)
      return refused('range', `${rule.along?.field} is out of range`);
    if (found && y !== null && Math.abs(y) > limits.across_mm)
      return refused('range', `${rule.across?.field} is out of range`);
    if (w !== null && (w < 0 || w > 100)) return refused('range', `${rule.width?.field} is out of range`);
    return { station: id, along_mm: found ? x : null, across_mm: found ? y : null, strength: strong, width_mm: w };
  };
};

const measureWith = (measure: Measure | undefined, pieces: Pieces): (() => number | null | undefined) => {
  if (measure === undefined) return (): null => null;
  const at = pieces.at(measure.field);
  const factor = measure.scale * MM_PER[measure.unit] * measure.sign;
  if (factor === 1) return () => pieces.number(at);
  return () => {
    const value = pieces.number(at);
    // Rounded to a tenth of a nanometre, so that 12 um is 0.012 mm and not 0.012000000000000002.
    return value === null || value === undefined ? value : Math.round(value * factor * 1e7) / 1e7 + 0;
  };
};

const HEX_PAIRS = /^([0-9A-F]{2})+$/;
const fromHexPairs = (text: string): string | null =>
  HEX_PAIRS.test(text) ? Buffer.from(text, 'hex').toString('latin1') : null;

/** Whether text holds control bytes (a tab may stand) or bytes beyond ASCII. */
const lookThrough = (text: string, from: number, to: number): 'plain' | 'control' | 'beyond ASCII' => {
  let beyond = false;
  for (let i = from; i < to; i += 1) {
    const c = text.charCodeAt(i);
    if (c >= 0x20 && c < 0x7f) continue;
    if (c > 0x7f) beyond = true;
    else if (c !== 9) return 'control';
  }
  return beyond ? 'beyond ASCII' : 'plain';
};

/** Text with bytes beyond ASCII, in the encoding the profile says. */
const decode = (body: string, encoding: 'ascii' | 'utf8' | 'latin1'): string | Refused => {
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
