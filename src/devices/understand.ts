import type { SensorReading } from '../core/sensor-reading.js';
import { checkValue } from './check-value.js';
import { decodeText } from './decode-text.js';
import { lookThrough } from './look-through.js';
import { messagePieces } from './message-pieces.js';
import type { Profile } from './profile.js';
import { readingWith } from './reading-with.js';
import { type RefusedMessage, refused } from './refused-message.js';
import type { WholeMessage } from './splitter.js';

/** What one message means. */
export type Understood =
  | { readonly kind: 'readings'; readonly readings: readonly SensorReading[]; readonly counter_m: number | null }
  | { readonly kind: 'heartbeat' | 'ignored' }
  | RefusedMessage;

export type Understand = (message: WholeMessage) => Understood;

/** The reader of a profile's messages: from the bytes of one message to readings in mm, or to why it is refused. It remembers nothing. */
export const understandWith = (profile: Profile): Understand => {
  const pieces = messagePieces(profile);
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
        const decoded = decodeText(text.slice(from, to), profile.encoding);
        if (typeof decoded !== 'string') return refused(decoded.why, decoded.detail);
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
    let readings: SensorReading[] = NONE;
    for (let i = 0; i < rules.length; i += 1) {
      const reading = rules[i]?.() ?? null;
      if (reading === null) continue;
      if ('kind' in reading) return reading;
      // A list made with its first reading takes a tenth of the room of an empty one that is pushed to.
      if (readings === NONE) readings = [reading];
      else readings.push(reading);
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

const NONE: SensorReading[] = [];

const HEX_PAIRS = /^([0-9A-F]{2})+$/;
const fromHexPairs = (text: string): string | null =>
  HEX_PAIRS.test(text) ? Buffer.from(text, 'hex').toString('latin1') : null;
