import type { JobFile } from '../job-schema.js';
import type { PressFile } from '../press-schema.js';

/** What earlier files say beyond the questions and is kept, in words; '' = nothing. */
export const keptBeyond = (press: PressFile | null, job: JobFile | null): string => {
  const said = [
    ...(press === null ? [] : KEPT_OF_PRESS.filter(([, has]) => has(press)).map(([word]) => word)),
    ...(job === null ? [] : KEPT_OF_JOB.filter(([, has]) => has(job)).map(([word]) => word)),
  ];
  return said.length === 0 ? '' : `Kept as the earlier files say: ${said.join(', ')}.`;
};

const KEPT_OF_PRESS: readonly (readonly [string, (file: PressFile) => boolean])[] = [
  [
    'knobs',
    ({ knobs, stations }) =>
      knobs !== undefined || stations.some((s) => s.along !== undefined || s.across !== undefined),
  ],
  ['place of the sensor (m from the unwind)', ({ sensor_m }) => sensor_m !== undefined],
  ['other sample places (m from the unwind)', ({ samples }) => samples !== undefined],
];

const KEPT_OF_JOB: readonly (readonly [string, (file: JobFile) => boolean])[] = [
  ['pairs', ({ pairs }) => (pairs?.length ?? 0) > 0],
  ['tolerances of single stations', ({ tolerance }) => Object.keys(tolerance.stations ?? {}).length > 0],
  ['aims', ({ stations }) => stations.some(({ aim }) => aim !== undefined)],
];
