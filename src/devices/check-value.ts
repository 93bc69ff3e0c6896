import { checksum, checksumWidth } from './checksum.js';
import type { ChecksumRule, Frame } from './profile-frame.js';

/**
 * The body without its check value, or null when the value is missing, written otherwise than the profile says, or does not match. Hex
 * digits are capitals: a lower-case digit is one wrong bit away.
 */
export const checkValue = (rule: ChecksumRule, frame: Frame, body: string, trailer: string): string | null => {
  const width = checksumWidth(rule.kind) * (rule.form === 'hex' ? 2 : 1);
  const behind = rule.place === 'after-end';
  const text = behind ? trailer : body.slice(body.length - width);
  if (text.length !== width) return null;
  const sent = sentValue(rule, text);
  if (sent === null) return null;
  const after = rule.after ?? '';
  const rest = behind ? body : body.slice(0, body.length - width);
  if (!rest.endsWith(after)) return null;
  const payload = rest.slice(0, rest.length - after.length);
  const start = rule.includes.includes('start') && 'start' in frame ? (frame.start ?? '') : '';
  const end = rule.includes.includes('end') && 'end' in frame ? frame.end : '';
  const span = start + payload + (rule.includes.includes('after') ? after : '') + end;
  return checksum(rule.kind, span) === sent ? payload : null;
};

/** A body with its check value put on, as the sensor would send it (frame marks not included). */
export const withCheckValue = (
  rule: ChecksumRule,
  frame: Frame,
  payload: string,
): { readonly body: string; readonly trailer: string } => {
  const after = rule.after ?? '';
  const start = rule.includes.includes('start') && 'start' in frame ? (frame.start ?? '') : '';
  const end = rule.includes.includes('end') && 'end' in frame ? frame.end : '';
  const value = checksum(rule.kind, start + payload + (rule.includes.includes('after') ? after : '') + end);
  const wide = checksumWidth(rule.kind) === 2;
  const ordered = wide && rule.order === 'low-first' ? ((value & 0xff) << 8) | (value >>> 8) : value;
  const text =
    rule.form === 'hex'
      ? ordered
          .toString(16)
          .toUpperCase()
          .padStart(wide ? 4 : 2, '0')
      : wide
        ? String.fromCharCode(ordered >>> 8, ordered & 0xff)
        : String.fromCharCode(ordered);
  return rule.place === 'after-end'
    ? { body: payload + after, trailer: text }
    : { body: payload + after + text, trailer: '' };
};

const HEX = /^[0-9A-F]+$/;

const sentValue = (rule: ChecksumRule, text: string): number | null => {
  let value: number;
  if (rule.form === 'hex') {
    if (!HEX.test(text)) return null;
    value = Number.parseInt(text, 16);
  } else value = text.length === 2 ? (text.charCodeAt(0) << 8) | text.charCodeAt(1) : text.charCodeAt(0);
  return checksumWidth(rule.kind) === 2 && rule.order === 'low-first' ? ((value & 0xff) << 8) | (value >>> 8) : value;
};
