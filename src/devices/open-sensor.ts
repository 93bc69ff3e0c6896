import { type Asker, createAsker } from './asker.js';
import { bytesToSend } from './bytes-to-send.js';
import { createModbusAsker } from './modbus-asker.js';
import { portTrouble } from './port-trouble.js';
import type { Profile, Refusal } from './profile.js';
import { retryDelayMs } from './retry-delay.js';
import type { SensorCounts } from './sensor-counts.js';
import type { SensorEvent, SensorState } from './sensor-event.js';
import { createSensorFeed } from './sensor-feed.js';
import { type OpenLine, openSerialLine, type SerialLine } from './serial-line.js';
import { type SerialPortFound, serialPorts } from './serial-ports.js';
import { openWireRecords } from './wire-records.js';
import { wireText } from './wire-text.js';

export type SensorOptions = {
  readonly port: string;
  readonly profile: Profile;
  /** Wall clock of the readings, ms. It may jump: nothing here is timed by it. */
  readonly now: () => number;
  readonly onEvent: (event: SensorEvent) => void;
  /** Stations of the job; readings of others are refused and told. Not given = all are taken. */
  readonly stations?: readonly string[];
  /** A folder for what is kept beside the run: refused messages, and every byte as it came when `raw`. */
  readonly keep?: { readonly folder: string; readonly raw: boolean };
  /** Every byte as it came. */
  readonly onRaw?: (chunk: Buffer, atMs: number) => void;
  /** Every refused message, for whoever keeps them. */
  readonly onRefused?: (raw: string, why: Refusal) => void;
  readonly openLine?: OpenLine;
  readonly listPorts?: () => Promise<readonly SerialPortFound[]>;
  /** A clock that does not jump, ms. */
  readonly monotonic?: () => number;
  readonly random?: () => number;
};

export type Sensor = {
  readonly counts: () => SensorCounts;
  readonly close: () => Promise<void>;
};

/** How often the silence, the flood and the questions are looked after. */
const TICK_MS = 100;

/**
 * A sensor on a serial port for as long as the program runs: opens the port, opens it again whenever it went away (also under another name, if
 * its adapter has a serial number), and tells readings, refused messages and the state of the line. It never throws and never rejects.
 */
export const openSensor = (options: SensorOptions): Sensor => {
  const { profile, onEvent, now } = options;
  const openLine = options.openLine ?? openSerialLine();
  const listPorts = options.listPorts ?? serialPorts;
  const mono = options.monotonic ?? (() => performance.now());
  const random = options.random ?? Math.random;
  let closed = false;
  let line: SerialLine | null = null;
  let opening: Promise<void> = Promise.resolve();
  let asker: Asker | null = null;
  let retry: NodeJS.Timeout | undefined;
  let attempt = 0;
  let path = options.port;
  let serialNumber: string | null = null;
  let lastTold: string | null = null;
  let everOpen = false;
  let timeouts = 0;

  const tell = (event: SensorEvent): void => {
    if (!closed) onEvent(event);
  };
  const state = (to: SensorState, detail: string): void => tell({ kind: 'state', state: to, detail });
  const lost = (detail: string): void => {
    if (detail !== lastTold) state('lost', detail);
    lastTold = detail;
  };

  const kept =
    options.keep === undefined
      ? null
      : openWireRecords(options.keep.folder, options.keep.raw, now, (why) =>
          tell({
            kind: 'refused',
            line: '',
            why: `what comes off the wire cannot be kept on disk: ${wireText(why, 120)}. The readings are not touched by it.`,
          }),
        );
  const feed = createSensorFeed({
    profile,
    now,
    onEvent: tell,
    ...(options.stations === undefined ? {} : { stations: options.stations }),
    onRefused: (raw, why) => {
      options.onRefused?.(raw, why);
      kept?.refused(why, raw);
    },
  });

  const onData = (chunk: Buffer): void => {
    if (closed) return;
    options.onRaw?.(chunk, now());
    kept?.raw(chunk, now());
    if (line === null) return;
    const own = asker === null ? chunk : asker.incoming(chunk);
    if (own.length > 0) feed.push(own, mono());
  };

  const onLost = (): void => {
    line = null;
    asker?.stop();
    asker = null;
    feed.lost();
    lost(
      `the sensor on ${wireText(path, 60)} went away: cable unplugged, or its power gone. It is tried again by itself.`,
    );
    again();
  };

  const again = (): void => {
    if (closed) return;
    retry = setTimeout(
      () => {
        opening = open();
      },
      retryDelayMs(attempt, random),
    );
    attempt += 1;
  };

  const open = async (): Promise<void> => {
    try {
      path = await whereNow();
      let goneAtOnce = false;
      const opened = await openLine(path, profile.port, {
        onData,
        onLost: () => {
          if (line === null) goneAtOnce = true;
          else onLost();
        },
      });
      const asking = await startAsking(opened);
      if (closed) return await opened.close();
      if (goneAtOnce) throw new Error('no such device');
      asker = asking;
      line = opened;
      attempt = 0;
      feed.opened(mono());
      for (const command of profile.start) opened.write(bytesToSend(command));
      const where =
        path === options.port ? wireText(path, 60) : `${wireText(path, 60)} (it was ${wireText(options.port, 60)})`;
      state(everOpen ? 'back' : 'attached', `${wireText(profile.name)} on ${where}, ${profile.port.baud} baud`);
      everOpen = true;
      lastTold = null;
      void rememberSerialNumber();
    } catch (error) {
      const trouble = await portTrouble(path, error);
      // After "went away", that the port is not there is no news; that it is busy or not permitted is.
      if (trouble.kind !== 'missing' || lastTold === null) lost(trouble.detail);
      again();
    }
  };

  const startAsking = (opened: SerialLine): Promise<Asker | null> | Asker | null => {
    const onTimeout = (): void => {
      timeouts += 1;
    };
    if (profile.talk.mode !== 'modbus-rtu')
      return createAsker({ profile, write: opened.write, onAsk: feed.asked, answers: feed.answers, onTimeout });
    const onAnswer = (raw: string): void => feed.message(raw, mono());
    const onRefused = (why: Refusal, detail: string, raw: string): void => feed.refused(why, detail, raw, mono());
    return createModbusAsker({ profile, write: opened.write, onAnswer, onRefused, onTimeout });
  };

  /** The port's path; when it is gone, the path under which the same adapter came back. */
  const whereNow = async (): Promise<string> => {
    if (serialNumber === null) return options.port;
    const ports = await listPorts().catch(() => []);
    if (ports.some((p) => p.path === options.port && p.serial_number === serialNumber)) return options.port;
    return ports.find((p) => p.serial_number === serialNumber)?.path ?? options.port;
  };

  const rememberSerialNumber = async (): Promise<void> => {
    const at = path;
    const ports = await listPorts().catch(() => []);
    serialNumber = ports.find((p) => p.path === at)?.serial_number ?? serialNumber;
  };

  const clock = setInterval(
    () => {
      const atMs = mono();
      if (line === null) return;
      asker?.tick(atMs);
      feed.tick(atMs);
    },
    Math.min(
      TICK_MS,
      profile.talk.mode === 'push' ? TICK_MS : Math.max(5, profile.talk.every_ms / 4),
      profile.frame.kind === 'silence' ? Math.max(2, profile.frame.gap_ms) : TICK_MS,
    ),
  );

  opening = open();

  return {
    counts: () => ({ ...feed.counts(), timeouts }),
    close: async () => {
      closed = true;
      clearInterval(clock);
      clearTimeout(retry);
      await opening;
      if (line !== null) {
        for (const command of profile.stop) line.write(bytesToSend(command));
        await line.close();
        line = null;
      }
      await kept?.close();
    },
  };
};
