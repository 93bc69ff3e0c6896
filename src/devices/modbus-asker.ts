import { EventEmitter } from 'node:events';
import type { Asker } from './asker.js';
import type { Profile, Refusal } from './profile.js';

export type ModbusAskerOptions = {
  readonly profile: Profile;
  readonly write: (bytes: Buffer) => void;
  /** A whole answer whose address, function, length and CRC the library has found right. */
  readonly onAnswer: (raw: string) => void;
  readonly onRefused: (why: Refusal, detail: string, raw: string) => void;
  readonly onTimeout: () => void;
};

/** Address, function, byte count and CRC of an answer; an exception is this long. */
const EXCEPTION_BYTES = 5;

/**
 * Reads registers over Modbus RTU. The questions, the time-outs and the check of the answers are the library's (modbus-serial); this gives it a
 * port made of our own line, and hands it the bytes of one answer.
 */
export const createModbusAsker = async (options: ModbusAskerOptions): Promise<Asker | null> => {
  const { talk } = options.profile;
  if (talk.mode !== 'modbus-rtu') return null;
  const library = await import('modbus-serial');
  const ModbusRTU = library.default.default;
  const code = talk.table === 'holding' ? 3 : 4;
  const whole = EXCEPTION_BYTES + 2 * talk.count;
  let stopped = false;
  let waiting = false;
  let askedMs: number | null = null;
  let got = '';

  const port = Object.assign(new EventEmitter(), {
    isOpen: true,
    open: (done: (error: null) => void) => done(null),
    close: (done?: () => void) => done?.(),
    write: (bytes: Buffer) => options.write(bytes),
  });
  const client = new ModbusRTU(port);
  client.open(() => undefined);
  client.setTimeout(talk.timeout_ms);

  const answered = (error: (Error & { readonly modbusCode?: number; readonly errno?: unknown }) | null): void => {
    if (stopped || !waiting) return;
    waiting = false;
    const raw = got;
    got = '';
    if (error === null) options.onAnswer(raw);
    else if (String(error.errno) === 'ETIMEDOUT') {
      if (raw !== '') options.onRefused('half', `${raw.length} bytes, only part of an answer`, raw);
      options.onTimeout();
    } else if (error.modbusCode !== undefined) options.onRefused('status', error.message, raw);
    else options.onRefused(/CRC/.test(error.message) ? 'checksum' : 'form', error.message, raw);
  };

  return {
    tick: (monoMs) => {
      if (stopped || waiting || (askedMs !== null && monoMs - askedMs < talk.every_ms)) return;
      askedMs = monoMs;
      waiting = true;
      got = '';
      if (code === 3) client.writeFC3(talk.unit, talk.first, talk.count, answered);
      else client.writeFC4(talk.unit, talk.first, talk.count, answered);
    },
    incoming: (chunk) => {
      if (!waiting) return Buffer.alloc(0);
      got += chunk.toString('latin1', 0, Math.min(chunk.length, whole + 1));
      const exception = got.length >= 2 && (got.charCodeAt(1) & 0x80) !== 0;
      if (got.length >= (exception ? EXCEPTION_BYTES : whole))
        port.emit('data', Buffer.from(got.slice(0, exception ? EXCEPTION_BYTES : whole), 'latin1'));
      return Buffer.alloc(0);
    },
    stop: () => {
      stopped = true;
      port.isOpen = false;
      client.setTimeout(0);
    },
  };
};
