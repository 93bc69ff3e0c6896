import { fail, ok, type Result } from '../core/result.js';
import { createAsker } from './asker.js';
import { createModbusAsker } from './modbus-asker.js';
import { portTrouble } from './port-trouble.js';
import type { Profile } from './profile.js';
import type { PortSettings } from './profile-port.js';
import { type OpenLine, openSerialLine, type SerialLine } from './serial-line.js';
import { messageText, wholeMessage } from './splitter.js';
import { splitterFor } from './splitter-for.js';
import { type Understood, understandWith } from './understand.js';

/** A piece of what came off the wire, whole message or not, with what it means. */
export type Heard = { readonly raw: string; readonly understood: Understood };

export type ListenOptions = {
  readonly port: string;
  readonly ms: number;
  readonly openLine?: OpenLine;
  /** Ends it early. */
  readonly signal?: AbortSignal;
};

/** Everything that comes off a port in a while, as bytes. */
export const listenRaw = async (
  settings: PortSettings,
  options: ListenOptions,
  enough = 4096,
): Promise<Result<Buffer>> => {
  const chunks: Buffer[] = [];
  let bytes = 0;
  const stop = new AbortController();
  const heard = await withLine(settings, options, stop, () => ({
    onData: (chunk) => {
      chunks.push(chunk);
      bytes += chunk.length;
      if (bytes >= enough) stop.abort();
    },
  }));
  return heard.ok ? ok(Buffer.concat(chunks)) : heard;
};

/** Listens with a profile (and asks, when it is a profile that asks), telling every message as it comes. */
export const listenWith = async (
  profile: Profile,
  options: ListenOptions,
  onHeard: (heard: Heard) => void,
): Promise<Result<void>> => {
  const understand = understandWith(profile);
  let answers = 0;
  const tell = (raw: string, understood: Understood): void => {
    if (understood.kind !== 'refused') answers += 1;
    onHeard({ raw, understood });
  };
  const splitter = splitterFor(profile, (f) =>
    f.kind === 'frame'
      ? tell(messageText(f), understand(f))
      : tell(f.raw, { kind: 'refused', why: f.why, detail: `${f.bytes} bytes` }),
  );
  return withLine(profile.port, options, new AbortController(), async (line) => {
    splitter.opened(performance.now());
    const onTimeout = (): void =>
      onHeard({
        raw: '',
        understood: {
          kind: 'refused',
          why: 'half',
          detail: `no answer within ${profile.talk.mode === 'push' ? 0 : profile.talk.timeout_ms} ms`,
        },
      });
    const asker =
      createAsker({ profile, write: line.write, onAsk: splitter.cut, onTimeout, answers: () => answers }) ??
      (await createModbusAsker({
        profile,
        write: line.write,
        onAnswer: (raw) => tell(raw, understand(wholeMessage(raw))),
        onRefused: (why, detail, raw) => tell(raw, { kind: 'refused', why, detail }),
        onTimeout,
      }));
    return {
      onData: (chunk) => {
        const own = asker === null ? chunk : asker.incoming(chunk);
        if (own.length > 0) splitter.push(own, performance.now());
      },
      onTick: () => {
        asker?.tick(performance.now());
        splitter.idle(performance.now());
      },
      onEnd: () => asker?.stop(),
    };
  });
};

type Listener = { readonly onData: (chunk: Buffer) => void; readonly onTick?: () => void; readonly onEnd?: () => void };

const TICK_MS = 20;

/** Opens the port, lets the listener hear for a while, closes it again whatever happens. */
const withLine = async (
  settings: PortSettings,
  options: ListenOptions,
  stop: AbortController,
  listen: (line: SerialLine) => Listener | Promise<Listener>,
): Promise<Result<void>> => {
  const open = options.openLine ?? openSerialLine();
  let listener: Listener | null = null;
  let gone: string | null = null;
  let line: SerialLine;
  try {
    line = await open(options.port, settings, {
      onData: (chunk) => listener?.onData(chunk),
      onLost: (why) => {
        gone = why;
        stop.abort();
      },
    });
  } catch (error) {
    return fail(
      (await portTrouble(options.port, error)).detail.replace(/ It is tried again by itself\./, ''),
      options.port,
    );
  }
  listener = await listen(line);
  const tick = setInterval(() => listener?.onTick?.(), TICK_MS);
  await passed(options.ms, [stop.signal, ...(options.signal === undefined ? [] : [options.signal])]);
  clearInterval(tick);
  listener.onEnd?.();
  await line.close();
  return gone === null
    ? ok(undefined)
    : fail(`the sensor on ${options.port} went away while it was listened to`, options.port);
};

const passed = (ms: number, signals: readonly AbortSignal[]): Promise<void> =>
  new Promise((resolve) => {
    if (signals.some((s) => s.aborted)) return resolve();
    const timer = Number.isFinite(ms) ? setTimeout(resolve, ms) : setInterval(() => undefined, 60_000);
    for (const s of signals)
      s.addEventListener('abort', () => {
        clearTimeout(timer);
        resolve();
      });
  });
