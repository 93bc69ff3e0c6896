import type { Refusal } from './profile.js';
import { openRawRecord, openRefusedRecord } from './raw-record.js';

/** What a sensor keeps on disk beside the run: refused messages, and every byte when asked. */
export type WireRecords = {
  readonly raw: (chunk: Buffer, atMs: number) => void;
  readonly refused: (why: Refusal, raw: string) => void;
  readonly close: () => Promise<void>;
};

/** Opens them without waiting; what cannot be opened or written is told once and the sensor goes on. */
export const openWireRecords = (
  folder: string,
  keepRaw: boolean,
  now: () => number,
  onTrouble: (why: string) => void,
): WireRecords => {
  let told = false;
  const tell = (why: string): void => {
    if (!told) onTrouble(why);
    told = true;
  };
  const options = { folder, now, onTrouble: tell };
  const failed = (error: unknown): null => {
    tell(error instanceof Error ? error.message : String(error));
    return null;
  };
  const refused = openRefusedRecord(options).catch(failed);
  const raw = keepRaw ? openRawRecord(options).catch(failed) : Promise.resolve(null);
  return {
    raw: (chunk, atMs) => void raw.then((file) => file?.keep(chunk, atMs)),
    refused: (why, text) => void refused.then((file) => file?.keep(text, why)),
    close: async () => {
      await (await raw)?.close();
      await (await refused)?.close();
    },
  };
};
