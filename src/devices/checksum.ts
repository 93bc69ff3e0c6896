import type { ChecksumRule } from './profile-frame.js';

/**
 * Check values over a string of bytes (one character a byte), as serial sensors carry them.
 * - xor: all bytes exclusive-or'ed (the sentence with *HH). - sum-8: sum modulo 256. - lrc: two's complement of that sum (Modbus ASCII).
 * - crc-8: polynomial 07, start 00. - crc-16-modbus: 8005 reflected, start FFFF. - crc-16-ccitt: 1021, start FFFF. - crc-16-xmodem: 1021, start 0.
 * Example: the CRC-16 of "123456789" for Modbus is 4B37. Sources of the check values: the tests.
 */
export const checksum = (kind: ChecksumRule['kind'], bytes: string): number => {
  switch (kind) {
    case 'xor':
      return xor(bytes);
    case 'sum-8':
      return sum8(bytes);
    case 'lrc':
      return -sum8(bytes) & 0xff;
    case 'crc-8':
      return crc8(bytes);
    case 'crc-16-modbus':
      return crcReflected(bytes);
    case 'crc-16-ccitt':
      return crcForward(bytes, 0xffff);
    case 'crc-16-xmodem':
      return crcForward(bytes, 0);
  }
};

/** How many bytes a check value has. */
export const checksumWidth = (kind: ChecksumRule['kind']): 1 | 2 => (kind.startsWith('crc-16') ? 2 : 1);

const xor = (bytes: string): number => {
  let value = 0;
  for (let i = 0; i < bytes.length; i += 1) value ^= bytes.charCodeAt(i);
  return value;
};

const sum8 = (bytes: string): number => {
  let value = 0;
  for (let i = 0; i < bytes.length; i += 1) value = (value + bytes.charCodeAt(i)) & 0xff;
  return value;
};

const table = (step: (value: number) => number, start: (byte: number) => number): readonly number[] =>
  Array.from({ length: 256 }, (_, byte) => {
    let value = start(byte);
    for (let bit = 0; bit < 8; bit += 1) value = step(value);
    return value;
  });

const CRC8 = table(
  (v) => (v & 0x80 ? ((v << 1) ^ 0x07) & 0xff : (v << 1) & 0xff),
  (b) => b,
);
const REFLECTED = table(
  (v) => (v & 1 ? (v >>> 1) ^ 0xa001 : v >>> 1),
  (b) => b,
);
const FORWARD = table(
  (v) => (v & 0x8000 ? ((v << 1) ^ 0x1021) & 0xffff : (v << 1) & 0xffff),
  (b) => b << 8,
);

const crc8 = (bytes: string): number => {
  let value = 0;
  for (let i = 0; i < bytes.length; i += 1) value = CRC8[(value ^ bytes.charCodeAt(i)) & 0xff] ?? 0;
  return value;
};

const crcReflected = (bytes: string): number => {
  let value = 0xffff;
  for (let i = 0; i < bytes.length; i += 1)
    value = (value >>> 8) ^ (REFLECTED[(value ^ bytes.charCodeAt(i)) & 0xff] ?? 0);
  return value;
};

const crcForward = (bytes: string, start: number): number => {
  let value = start;
  for (let i = 0; i < bytes.length; i += 1)
    value = ((value << 8) & 0xffff) ^ (FORWARD[((value >>> 8) ^ bytes.charCodeAt(i)) & 0xff] ?? 0);
  return value;
};
