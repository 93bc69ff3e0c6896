import type { SensorReading } from '../core/sensor-reading.js';
import type { MessagePieces } from './message-pieces.js';
import type { Profile } from './profile.js';
import type { Measure, ReadingRule } from './profile-fields.js';
import { type RefusedMessage, refused } from './refused-message.js';

const MM_PER = { mm: 1, um: 0.001, in: 25.4, thou: 0.0254 } as const;

/** What one message says of one station, from its pieces; null = nothing (its channel is mapped to '-'). */
export const readingWith = (
  profile: Profile,
  rule: ReadingRule,
  pieces: MessagePieces,
): (() => SensorReading | RefusedMessage | null) => {
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

const measureWith = (measure: Measure | undefined, pieces: MessagePieces): (() => number | null | undefined) => {
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
