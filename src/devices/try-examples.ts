import type { FileTrouble } from '../core/file-problem.js';
import type { SensorReading } from '../core/sensor-reading.js';
import type { Profile } from './profile.js';
import { HALF_AFTER_MS } from './splitter.js';
import { splitterFor } from './splitter-for.js';
import { type Understood, understandWith } from './understand.js';
import { wireText } from './wire-text.js';

type Example = { readonly line?: string | undefined; readonly hex?: string | undefined };

/** The bytes of an example of a profile. */
export const exampleBytes = ({ line, hex }: Example): Buffer =>
  hex === undefined ? Buffer.from(line ?? '', 'latin1') : Buffer.from(hex.replaceAll(' ', ''), 'hex');

/** What a profile makes of bytes that come in one piece after a quiet time. */
export const understandBytes = (profile: Profile, bytes: Buffer): readonly Understood[] => {
  const understand = understandWith(profile);
  const all: Understood[] = [];
  const splitter = splitterFor(profile, (f) =>
    all.push(f.kind === 'frame' ? understand(f) : { kind: 'refused', why: f.why, detail: `${f.bytes} bytes` }),
  );
  splitter.opened(0);
  splitter.push(bytes, 10_000);
  splitter.idle(10_000 + HALF_AFTER_MS);
  return all;
};

/** Runs the examples a profile carries: those it should understand, and those it should refuse. Empty = all as they say. */
export const tryExamples = (profile: Profile): readonly FileTrouble[] => [
  ...profile.examples.flatMap((example, i) => {
    const got = understandBytes(profile, exampleBytes(example));
    const only = got[0];
    const shown = wireText(exampleBytes(example).toString('latin1'));
    if (only === undefined || got.length !== 1)
      return [trouble('examples', i, `${shown} is ${got.length} messages, not one`)];
    if (typeof example.gives === 'string')
      return only.kind === example.gives
        ? []
        : [trouble('examples', i, `${shown} should be ${example.gives}, but ${told(only)}`)];
    if (only.kind !== 'readings') return [trouble('examples', i, `${shown} should give readings, but ${told(only)}`)];
    const wanted = example.gives.map(filled);
    if (!same(wanted, only.readings))
      return [
        trouble(
          'examples',
          i,
          `${shown} should give ${JSON.stringify(wanted)}, but gives ${JSON.stringify(only.readings)}`,
        ),
      ];
    const counter = example.counter_m ?? null;
    return close(counter, only.counter_m)
      ? []
      : [trouble('examples', i, `${shown} should give counter_m ${counter}, but gives ${only.counter_m}`)];
  }),
  ...profile.refused.flatMap((example, i) => {
    const got = understandBytes(profile, exampleBytes(example));
    const shown = wireText(exampleBytes(example).toString('latin1'));
    const wrong = got.find((u) => u.kind !== 'refused');
    if (wrong !== undefined || got.length === 0)
      return [
        trouble(
          'refused',
          i,
          `${shown} should be refused, but ${wrong === undefined ? 'is not noticed' : told(wrong)}`,
        ),
      ];
    const whys = got.flatMap((u) => (u.kind === 'refused' ? [u.why] : []));
    return whys.includes(example.why)
      ? []
      : [trouble('refused', i, `${shown} should be refused for "${example.why}", but is for "${whys.join('", "')}"`)];
  }),
];

const trouble = (key: string, i: number, why: string): FileTrouble => ({ path: [key, i], why });

const told = (u: Understood): string =>
  u.kind === 'refused'
    ? `is refused (${u.why}: ${wireText(u.detail)})`
    : u.kind === 'readings'
      ? `gives ${JSON.stringify(u.readings)}`
      : `is taken as ${u.kind}`;

type Given = Exclude<Profile['examples'][number]['gives'], string>[number];

const filled = (given: Given): SensorReading => ({
  station: given.station,
  along_mm: given.along_mm ?? null,
  across_mm: given.across_mm ?? null,
  strength: given.strength ?? null,
  width_mm: given.width_mm ?? null,
});

const close = (a: number | null, b: number | null): boolean =>
  a === null || b === null ? a === b : Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(a));

const same = (a: readonly SensorReading[], b: readonly SensorReading[]): boolean =>
  a.length === b.length &&
  a.every((x, i) => {
    const y = b[i];
    return (
      y !== undefined &&
      x.station === y.station &&
      close(x.along_mm, y.along_mm) &&
      close(x.across_mm, y.across_mm) &&
      close(x.strength, y.strength) &&
      close(x.width_mm, y.width_mm)
    );
  });
