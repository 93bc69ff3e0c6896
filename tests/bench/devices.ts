import { readFileSync } from 'node:fs';
import { built } from './built.js';
import { benchSensorWhole } from './devices-whole.js';

const LINES = 200_000;
const CHUNK = 64;
const TIMES = 9;

/** Sensor lines from bytes to checks, against splitting the same bytes into lines and JSON.parse of each, in one run. */
export const benchDevices = async (): Promise<string[]> => {
  const { gatherConfig, sensorGather } =
    await built<typeof import('../../src/core/sensor-gather.js')>('core/sensor-gather.js');
  const { checkOfGathered } =
    await built<typeof import('../../src/core/check-of-gathered.js')>('core/check-of-gathered.js');
  const { readProfile } = await built<typeof import('../../src/devices/read-profile.js')>('devices/read-profile.js');
  const { createSensorFeed } = await built<typeof import('../../src/devices/sensor-feed.js')>('devices/sensor-feed.js');
  const file = JSON.parse(readFileSync(new URL('../../devices/line-delimited.json', import.meta.url), 'utf8'));
  // The shipped comma lines put between brackets, so that the very same bytes are JSON too.
  const bracketed = (line: string): string => `[${line.replace(/\r\n$/, '').replaceAll('+', '')}]\r\n`;
  const profile = readProfile(
    JSON.stringify({
      ...file,
      frame: { kind: 'between', start: '[', end: ']\r\n', max_bytes: 60 },
      expect_per_s: 5000,
      stuck_after: 0,
      other: [],
      examples: [
        {
          line: bracketed('2,0.012,-0.034,87'),
          gives: [{ station: '2', along_mm: 0.012, across_mm: -0.034, strength: 0.87 }],
        },
      ],
      refused: [{ line: bracketed('2,x,-0.034,87'), why: 'number' }],
    }),
    'bench',
  );
  if (!profile.ok) throw new Error(profile.problem.message);
  const bytes = Buffer.from(
    Array.from({ length: LINES }, (_, i) =>
      bracketed(
        `${2 + (i % 6)},${(((i * 37) % 200) / 1000 - 0.1).toFixed(3)},${(((i * 53) % 100) / 1000 - 0.05).toFixed(3)},${60 + (i % 40)}`,
      ),
    ).join(''),
    'latin1',
  );
  const chunks = Array.from({ length: Math.ceil(bytes.length / CHUNK) }, (_, i) =>
    bytes.subarray(i * CHUNK, (i + 1) * CHUNK),
  );

  // One sensor for the whole bench, as one is open for a whole shift.
  let checks = 0;
  let readings = 0;
  let atMs = 1000;
  const config = gatherConfig({}, null);
  let state = sensorGather.initial(config);
  const feed = createSensorFeed({
    profile: profile.value,
    now: () => atMs,
    onEvent: (event) => {
      if (event.kind !== 'readings') return;
      readings += event.readings.length;
      const step = sensorGather.step(config, state, { readings: event.readings, at_ms: event.at_ms, web_m: 0 });
      state = step.state;
      for (const gathered of step.gathered)
        if (checkOfGathered(gathered, { check: checks, roll: null, place: null }) !== null) checks += 1;
    },
  });
  feed.opened(0);
  // The clock runs as if 4000 lines came in a second, below what the profile calls a flood.
  const chunkMs = (CHUNK * LINES) / bytes.length / 4;
  const ours = (): void => {
    readings = 0;
    for (const chunk of chunks) {
      atMs += chunkMs;
      feed.push(chunk, atMs);
    }
    if (readings < LINES - 1) throw new Error(`${readings} readings of ${LINES} lines`);
  };
  const plain = (): void => {
    let pending = '';
    let values = 0;
    for (const chunk of chunks) {
      const lines = (pending + chunk.toString('latin1')).split('\r\n');
      pending = lines.pop() ?? '';
      for (const line of lines) values += JSON.parse(line).length;
    }
    if (values !== LINES * 4) throw new Error(`${values} values`);
  };
  ours();
  plain();
  checks = 0;
  const pairs = Array.from({ length: TIMES }, () => ({ plain: ms(plain), ours: ms(ours) }));
  // The fastest of each: what other programs on the machine take away is only ever added.
  const fastest = Math.min(...pairs.map((p) => p.ours));
  const ratio = Math.min(...pairs.map((p) => p.plain)) / fastest;
  const rate = LINES / fastest;
  return [
    `sensor lines, bytes to check: ${ratio.toFixed(2)} x splitting and JSON.parse of the same bytes (aim 0.5 or more; the fastest of ${TIMES}; ${rate.toFixed(0)} thousand lines a second, ${checks} checks of ${LINES * TIMES} lines)`,
    ...(await benchSensorWhole()),
  ];
};

const ms = (run: () => void): number => {
  const from = performance.now();
  run();
  return performance.now() - from;
};
