import { FLAW_KINDS, flawOf, isNoFlaw } from '../core/plates/flaw.js';
import type { RecordBody, StationReading } from '../core/record.js';
import type { RunState } from '../core/run/state.js';
import { labelOf, stationsOf } from '../core/run/stations.js';
import { flawsFrom } from './act-check.js';
import { askMaybe } from './ask.js';
import type { Io } from './exit.js';

/** Asks of each plate that is not clean, and of which nothing was said yet, what the flaw is. Enter passes; a slip is asked again. */
export const askFlaws = async (
  state: RunState,
  bodies: readonly RecordBody[],
  io: Io,
): Promise<readonly RecordBody[]> => {
  const labels = new Map(stationsOf(state.press, state.job).map((s) => [s.id, labelOf(s)]));
  const asked = async (reading: StationReading): Promise<StationReading> => {
    if (reading.plate === null || reading.plate === 'clean' || !isNoFlaw(flawOf(reading))) return reading;
    for (;;) {
      const answer = await askMaybe(
        [
          `${labels.get(reading.station) ?? reading.station} is ${reading.plate}. What is the flaw, and where?`,
          `${FLAW_KINDS.join(', ')}; leading or trailing edge;`,
          'same place every repeat, or moves. Words with commas; Enter passes:',
        ].join('\n'),
      );
      const flaws = flawsFrom(answer, reading.plate);
      if (flaws.ok) return { ...reading, ...flaws.value };
      io.err(`${flaws.problem.message}\n`);
    }
  };
  const filled: RecordBody[] = [];
  for (const body of bodies) {
    if (body.type !== 'check') {
      filled.push(body);
      continue;
    }
    const readings: StationReading[] = [];
    for (const reading of body.readings) readings.push(await asked(reading));
    filled.push({ ...body, readings });
  }
  return filled;
};
