import type { SensorReading } from '../core/sensor-reading.js';
import { createJumpGate } from './jump-gate.js';
import { createLineWatch, type LineState } from './line-watch.js';
import type { Profile, Refusal } from './profile.js';
import { newCounting, type SensorCounts } from './sensor-counts.js';
import type { SensorEvent } from './sensor-event.js';
import { type Framed, messageText, type WholeMessage, wholeMessage } from './splitter.js';
import { splitterFor } from './splitter-for.js';
import { createStuckWatch } from './stuck-watch.js';
import { understandWith } from './understand.js';
import { wireText } from './wire-text.js';

/** From bytes to events: all that is known of a sensor apart from its port. Works the same on a live line and on a raw record. */
export type SensorFeed = {
  readonly push: (chunk: Buffer, monoMs: number) => void;
  /** Time passes; to be called a few times a second. */
  readonly tick: (monoMs: number) => void;
  readonly opened: (monoMs: number) => void;
  /** The line was cut: what is pending is half a message. */
  readonly lost: () => void;
  /** A new question is asked: what is pending belonged to the last one. */
  readonly asked: () => void;
  /** One whole message that was not cut out of the stream here (an answer taken by a library). */
  readonly message: (raw: string, monoMs: number) => void;
  /** A message that was refused elsewhere. */
  readonly refused: (why: Refusal, detail: string, raw: string, monoMs: number) => void;
  /** Messages understood so far, heartbeats too. */
  readonly answers: () => number;
  readonly counts: () => SensorCounts;
};

export type FeedOptions = {
  readonly profile: Profile;
  readonly now: () => number;
  readonly onEvent: (event: SensorEvent) => void;
  /** Stations of the job; readings of others are refused and told. Not given = all are taken. */
  readonly stations?: readonly string[];
  /** Every refused message whole, for whoever keeps them. */
  readonly onRefused?: (raw: string, why: Refusal) => void;
};

/** Refused messages told one by one in a second; the rest are told as a number. */
const TELL_PER_S = 5;

export const createSensorFeed = ({ profile, now, onEvent, onRefused, stations }: FeedOptions): SensorFeed => {
  const understand = understandWith(profile);
  const jump = createJumpGate(profile.limits.jump_mm);
  const stuck = createStuckWatch(profile.stuck_after);
  const counts = newCounting();
  // In a list of doubles, because a captured number that changes with every chunk is made anew every time.
  const mono = new Float64Array(1);
  const monoNow = (): number => mono[0] ?? 0;
  let answers = 0;
  let open = false;
  const stuckStations = new Set<string>();
  let tellFromMs = Number.NEGATIVE_INFINITY;
  let told = 0;
  let untold = 0;

  const state = (to: LineState, detail: string): void => onEvent({ kind: 'state', state: to, detail });
  const line = createLineWatch(profile, state);

  const refuse = (why: Refusal, detail: string, raw: string): void => {
    counts.refused[why] += 1;
    onRefused?.(raw, why);
    if (monoNow() - tellFromMs >= 1000) {
      tellFromMs = monoNow();
      told = 0;
    }
    told += 1;
    if (told > TELL_PER_S) {
      untold += 1;
      return;
    }
    const more = untold > 0 ? ` (and ${untold} more before it)` : '';
    untold = 0;
    onEvent({
      kind: 'refused',
      line: wireText(raw.replace(/[\r\n]+$/, '')),
      why: `${why}: ${wireText(detail)}${more}`,
    });
  };

  const keep = (readings: readonly SensorReading[], message: WholeMessage): readonly SensorReading[] => {
    let all = readings;
    for (let i = 0; i < readings.length; i += 1) {
      const reading = readings[i];
      if (reading === undefined) continue;
      if (stations !== undefined && !stations.includes(reading.station)) {
        refuse('station', `station ${reading.station} is not in the job`, messageText(message));
        all = all.filter((r) => r !== reading);
      } else if (!jump.passes(reading)) {
        refuse(
          'jump',
          `station ${reading.station}: more than ${profile.limits.jump_mm} mm from the reading before`,
          messageText(message),
        );
        all = all.filter((r) => r !== reading);
      } else if (stuck.isStuck(reading)) {
        counts.stuck += 1;
        if (!stuckStations.has(reading.station)) {
          stuckStations.add(reading.station);
          state(
            'silent',
            `station ${wireText(reading.station)} has sent the very same value ${profile.stuck_after} times: the sensor is stuck. Its readings are not used; look at the sensor.`,
          );
        }
        all = all.filter((r) => r !== reading);
      } else if (stuckStations.size > 0 && stuckStations.delete(reading.station) && stuckStations.size === 0) {
        state('back', `station ${wireText(reading.station)} changes again; none is stuck any more`);
      }
    }
    return all;
  };

  const take = (framed: Framed): void => {
    counts.messages += 1;
    if (!line.passes(monoNow())) {
      counts.flooded += 1;
      return;
    }
    if (framed.kind === 'bad') {
      line.bad();
      refuse(
        framed.why,
        framed.why === 'half' ? `${framed.bytes} bytes, only part of a message` : `${framed.bytes} bytes`,
        framed.raw,
      );
      return;
    }
    const u = understand(framed);
    if (u.kind === 'refused') {
      line.bad();
      refuse(u.why, u.detail, messageText(framed));
      return;
    }
    answers += 1;
    line.good(monoNow());
    if (u.kind !== 'readings') {
      counts.other += 1;
      return;
    }
    const readings = keep(u.readings, framed);
    if (readings.length === 0) return;
    counts.readings += readings.length;
    onEvent({ kind: 'readings', readings, at_ms: now(), counter_m: u.counter_m });
  };
  const splitter = splitterFor(profile, take);

  const look = (): void => {
    if (open) line.look(monoNow(), counts.flooded);
  };

  return {
    push: (chunk, monoMs) => {
      mono[0] = monoMs;
      counts.bytes += chunk.length;
      line.bytes(chunk, monoMs);
      splitter.push(chunk, monoMs);
      look();
    },
    tick: (monoMs) => {
      mono[0] = monoMs;
      if (!open) return;
      splitter.idle(monoMs);
      look();
    },
    opened: (monoMs) => {
      mono[0] = monoMs;
      open = true;
      line.opened(monoMs);
      stuck.reset();
      stuckStations.clear();
      jump.reset();
      splitter.opened(monoMs);
    },
    lost: () => {
      open = false;
      splitter.cut();
    },
    asked: () => splitter.cut(),
    message: (raw, monoMs) => {
      mono[0] = monoMs;
      counts.bytes += raw.length;
      line.heard(monoMs);
      take({ kind: 'frame', ...wholeMessage(raw) });
      look();
    },
    refused: (why, detail, raw, monoMs) => {
      mono[0] = monoMs;
      if (raw !== '') line.heard(monoMs);
      counts.bytes += raw.length;
      counts.messages += 1;
      line.bad();
      refuse(why, detail, raw);
      look();
    },
    answers: () => answers,
    counts: () => ({ ...counts, refused: { ...counts.refused } }),
  };
};
