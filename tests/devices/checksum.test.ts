import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkValue, withCheckValue } from '../../src/devices/check-value.js';
import { checksum } from '../../src/devices/checksum.js';
import { ChecksumRule, Frame } from '../../src/devices/profile-frame.js';

const bytes = (hex: string): string => Buffer.from(hex.replaceAll(' ', ''), 'hex').toString('latin1');
const hex = (value: number): string => value.toString(16).toUpperCase();
const DIGITS = '123456789';

describe('published check values', () => {
  it.each([
    // The "check" entry of the public catalogue of CRC parameters (also in the Kaitai Struct format gallery): CRC of "123456789".
    ['crc-16-modbus', DIGITS, '4B37'],
    ['crc-16-ccitt', DIGITS, '29B1'],
    ['crc-16-xmodem', DIGITS, '31C3'],
    ['crc-8', DIGITS, 'F4'],
    // By hand: 1 xor 2 … xor 9 of the ASCII digits; their sum 477 = 1DD hex.
    ['xor', DIGITS, '31'],
    ['sum-8', DIGITS, 'DD'],
    // Modbus over serial line specification V1.02: LRC examples; CRC of bytes 01 to 09 as in public test suites.
    ['lrc', bytes('01 06 04 05 12 34'), 'AA'],
    ['lrc', bytes('F7 03 13 89 00 0A'), '60'],
    ['crc-16-modbus', bytes('01 02 03 04 05 06 07 08 09'), 'B20E'],
    ['crc-16-modbus', bytes('01 03 00 00 00 0A'), 'CDC5'],
    // Sentences with *HH quoted in public notes on NMEA 0183.
    ['xor', 'GPGGA,015808.00,2726.53758,S,15126.05255,E,1,08,1.0,365.1,M,39.5,M,,', '79'],
    ['xor', 'GPGGA,000003.071,7900.56904,N,16607.52019,W,1,09,0.8,4.64,M,,,,', '26'],
    // Computed with Python 3.11 binascii.crc_hqx(data, 0) and crc_hqx(data, 0xFFFF).
    ['crc-16-xmodem', 'A', '58E5'],
    ['crc-16-ccitt', 'A', 'B915'],
    ['crc-16-xmodem', 'plum jam lid 2,+0.012,-0.034,87', 'B811'],
    ['crc-16-ccitt', 'plum jam lid 2,+0.012,-0.034,87', '7839'],
    ['crc-16-xmodem', String.fromCharCode(...Array.from({ length: 256 }, (_, i) => i)), '7E55'],
    ['crc-16-ccitt', String.fromCharCode(...Array.from({ length: 256 }, (_, i) => i)), '3FBD'],
  ] as const)('%s of %j is %s', (kind, text, value) => {
    expect(hex(checksum(kind, text))).toBe(value);
  });

  it('agrees with the Modbus library on any bytes', () => {
    const crc16 = createRequire(import.meta.url)('modbus-serial/utils/crc16') as (buffer: Buffer) => number;
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 300 }),
        (data) => checksum('crc-16-modbus', Buffer.from(data).toString('latin1')) === crc16(Buffer.from(data)),
      ),
    );
  });
});

const KINDS = ['xor', 'sum-8', 'lrc', 'crc-8', 'crc-16-modbus', 'crc-16-ccitt', 'crc-16-xmodem'] as const;
const frame = Frame.parse({ kind: 'between', start: '$', end: '\r\n' });

describe.each(KINDS)('%s in a message', (kind) => {
  it('is found right when put on, and no single wrong bit is accepted, in every form and order', () => {
    for (const form of ['hex', 'bytes'] as const) {
      for (const order of ['high-first', 'low-first'] as const) {
        for (const more of [{}, { after: '*' }, { after: '*', includes: ['start', 'after', 'end'] }]) {
          const rule = ChecksumRule.parse({ kind, form, order, ...more });
          const payload = 'PJREG,1234.5,2,+12,-34,87,A';
          const { body } = withCheckValue(rule, frame, payload);
          expect(checkValue(rule, frame, body, '')).toBe(payload);
          for (let i = 0; i < body.length; i += 1) {
            for (let bit = 0; bit < 8; bit += 1) {
              const wrong = body.slice(0, i) + String.fromCharCode(body.charCodeAt(i) ^ (1 << bit)) + body.slice(i + 1);
              expect(checkValue(rule, frame, wrong, '')).toBe(null);
            }
          }
        }
      }
    }
  });
});

describe('the byte order and form on the wire', () => {
  it('Modbus: 01 03 00 00 00 0A is followed by C5 CD', () => {
    const rule = ChecksumRule.parse({ kind: 'crc-16-modbus', form: 'bytes', order: 'low-first' });
    expect(withCheckValue(rule, frame, bytes('01 03 00 00 00 0A')).body).toBe(bytes('01 03 00 00 00 0A C5 CD'));
    expect(withCheckValue(rule, frame, bytes('01 02 03 04 05 06 07 08 09')).body.slice(-2)).toBe(bytes('0E B2'));
  });
  it('does not take lower-case digits, fewer digits, or none', () => {
    const rule = ChecksumRule.parse({ kind: 'xor', after: '*' });
    const { body } = withCheckValue(rule, frame, 'AB\x7f');
    expect(body.slice(-3)).toBe('*7C');
    expect(checkValue(rule, frame, body.replace('7C', '7c'), '')).toBe(null);
    expect(checkValue(rule, frame, body.slice(0, -1), '')).toBe(null);
    expect(checkValue(rule, frame, '', '')).toBe(null);
  });
});
