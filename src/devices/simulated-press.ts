import type { SensorReading } from '../core/sensor-reading.js';
import { bytesToSend } from './bytes-to-send.js';
import type { Profile } from './profile.js';
import { frameBody, sayWith } from './say-with.js';
import { type SimulatedAct, type SimulatedWeb, sensorReads } from './simulated-web.js';

/** What can go wrong with a sensor on request. */
export const SIMULATED_FAULTS = [
  'noise',
  'half lines',
  'wrong checksum',
  'silence',
  'flood',
  'stuck',
  'escape sequences',
  'wrong speed',
] as const;
export type SimulatedFault = (typeof SIMULATED_FAULTS)[number];

export type SimulatedPressOptions = {
  readonly web: SimulatedWeb;
  readonly profile: Profile;
  /** 0 to 1, seeded: the same seed gives the same run. */
  readonly random: () => number;
  /** Only every n-th repeat is told, so that a run shown faster than life does not flood the line. */
  readonly every_repeats?: number;
  readonly from_m?: number;
};

/** A press and a sensor on it as one thing that speaks bytes; it has no clock of its own. */
export type SimulatedPress = {
  readonly web_m: () => number;
  readonly speed: () => number;
  /** Metres a minute; 0 = stopped. */
  readonly setSpeed: (mPerMin: number) => void;
  /** A knob turned or a plate washed, at this web position. */
  readonly act: (
    act:
      | { readonly kind: 'move'; readonly station: string; readonly axis: 'along' | 'across'; readonly mm: number }
      | { readonly kind: 'wash'; readonly station: string },
  ) => void;
  readonly fault: (fault: SimulatedFault | null) => void;
  /** Time passes: the bytes the sensor sends meanwhile, in order. */
  readonly advance: (ms: number) => readonly Buffer[];
  /** What the program said to the sensor; the bytes of the answer. */
  readonly hear: (bytes: Buffer) => readonly Buffer[];
};

/** Speaks the profile it is given: by itself (push), or when asked. */
export const createSimulatedPress = ({
  web,
  profile,
  random,
  every_repeats = 1,
  from_m = 0,
}: SimulatedPressOptions): SimulatedPress => {
  const say = sayWith(profile);
  const acts: SimulatedAct[] = [];
  const markM = web.repeat_m / web.marks_per_repeat;
  let web_m = from_m;
  let speed = 0;
  let fault: SimulatedFault | null = null;
  let marks = Math.floor(from_m / markM);
  let last: readonly SensorReading[] = sensorReads(web, acts, from_m, 0, random);
  let heard = '';

  const spoiled = (message: string): string => {
    switch (fault) {
      case 'silence':
        return '';
      case 'noise':
        return Array.from({ length: 12 }, () => String.fromCharCode(Math.floor(random() * 256))).join('');
      case 'wrong speed':
        return Array.from(message, (c) => String.fromCharCode((c.charCodeAt(0) << 3) & 0xf8)).join('');
      case 'half lines':
        return message.slice(0, Math.floor(random() * message.length));
      case 'wrong checksum':
        return spoilDigit(message, random);
      case 'escape sequences':
        return `\u001b]0;sensor\u0007\u001b[2J\u001b[31m${message}`;
      default:
        return message;
    }
  };
  const messages = (readings: readonly SensorReading[]): readonly Buffer[] =>
    say(readings, web_m)
      .map(spoiled)
      .filter((m) => m !== '')
      .map((m) => Buffer.from(m, 'latin1'));

  const question = questionOf(profile);

  return {
    web_m: () => web_m,
    speed: () => speed,
    setSpeed: (mPerMin) => {
      speed = Math.max(0, mPerMin);
    },
    act: (act) => {
      acts.push({ ...act, web_m });
    },
    fault: (next) => {
      fault = next;
    },
    advance: (ms) => {
      const out: Buffer[] = [];
      const to = web_m + (speed / 60_000) * ms;
      while ((marks + 1) * markM <= to) {
        marks += 1;
        web_m = marks * markM;
        if (Math.floor(marks / web.marks_per_repeat) % every_repeats !== 0) continue;
        if (fault !== 'stuck') last = sensorReads(web, acts, web_m, marks % web.marks_per_repeat, random);
        if (question !== null) continue;
        out.push(...messages(last));
        // A flood is the sensor telling every repeat over and over, each time read anew.
        for (let more = 0; fault === 'flood' && more < 29; more += 1)
          out.push(...messages(sensorReads(web, acts, web_m, marks % web.marks_per_repeat, random)));
      }
      web_m = to;
      return out;
    },
    hear: (bytes) => {
      if (question === null) return [];
      heard = (heard + bytes.toString('latin1')).slice(-1024);
      const out: Buffer[] = [];
      for (let at = heard.indexOf(question); at >= 0; at = heard.indexOf(question)) {
        heard = heard.slice(at + question.length);
        out.push(...messages(last));
      }
      return out;
    },
  };
};

/** The bytes that ask the sensor for its readings; null = it speaks by itself. */
const questionOf = (profile: Profile): string | null => {
  const { talk } = profile;
  if (talk.mode === 'push') return null;
  if (talk.mode === 'poll') return bytesToSend(talk.command).toString('latin1');
  const code = talk.table === 'holding' ? 3 : 4;
  return frameBody(
    profile,
    String.fromCharCode(talk.unit, code, talk.first >> 8, talk.first & 0xff, talk.count >> 8, talk.count & 0xff),
  );
};

/** One digit of the message is another one. */
const spoilDigit = (message: string, random: () => number): string => {
  const at = Array.from(message, (c, i) => (/\d/.test(c) ? i : -1)).filter((i) => i >= 0);
  const i = at[Math.floor(random() * at.length)];
  if (i === undefined)
    return message.slice(0, -3) + String.fromCharCode(message.charCodeAt(message.length - 3) ^ 1) + message.slice(-2);
  return message.slice(0, i) + ((Number(message[i]) + 1 + Math.floor(random() * 8)) % 10) + message.slice(i + 1);
};
