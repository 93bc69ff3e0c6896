import type { Job } from '../job.js';
import type { JobFile } from '../job-schema.js';
import type { Press } from '../press.js';
import { type LengthUnit, lengthFromM, type RegisterUnit, registerFromMm } from '../units.js';
import { NO_NAME, NOT_USED } from './job-stations.js';
import { NO } from './job-units.js';
import type { Answers } from './question.js';
import { NOT_KNOWN } from './question.js';
import { subsetName } from './subset-name.js';

/** The answers that an earlier job file gives to the questions. A tolerance given only station by station stays unanswered. */
export const jobAnswers = (file: JobFile, job: Job, press: Press): Answers => {
  const inJob = press.stations.filter(({ id }) => job.stations.some((station) => station.id === id));
  const ids = inJob.map(({ id }) => id);
  const read = new Map(job.stations.map((station) => [station.id, station.read]));
  const { register, length } = job.units;
  const repeat_mm = job.repeat_teeth * press.tooth_mm;
  const long = (m: number | null, none: string): string => (m === null ? none : lengthWords(m, length, repeat_mm));
  return {
    'job.name': job.name,
    ...Object.fromEntries(
      press.stations.map(({ id, kind }) => {
        const station = job.stations.find((one) => one.id === id);
        if (kind === 'die') return [`job.die.${id}`, station === undefined ? 'n' : 'y'];
        return [`job.ink.${id}`, station === undefined ? NOT_USED : (station.ink ?? NO_NAME)];
      }),
    ),
    'job.measured': subsetName(
      ids.filter((id) => read.get(id) === 'measure'),
      ids,
    ),
    ...Object.fromEntries(
      job.stations.flatMap((station) => (station.read === 'measure' ? [] : [[`job.look.${station.id}`, station.read]])),
    ),
    'job.register': register,
    'job.length': length,
    ...tolerances(file, register),
    'job.teeth': String(job.repeat_teeth),
    'job.labels.across': String(job.labels_across),
    'job.labels.around': String(job.labels_around),
    'job.roll': long(job.finished_roll_m, NOT_KNOWN),
    'job.every_roll': job.checks.every_roll ? 'y' : 'n',
    'job.every_m': long(job.checks.every_m, NO),
    'job.every_min': job.checks.every_min === null ? NO : `${job.checks.every_min} min`,
    'job.reference': job.reference,
  };
};

const tolerances = (file: JobFile, unit: RegisterUnit): Answers =>
  Object.fromEntries(
    (['print', 'die'] as const).flatMap((what) =>
      (['along', 'across'] as const).flatMap((axis) => {
        const mm = file.tolerance[what]?.[`${axis}_mm`];
        return mm === undefined ? [] : [[`job.tolerance.${what}.${axis}`, registerWords(mm, unit)]];
      }),
    ),
  );

/** No digit more than it takes to come back to the same millimetres. */
const registerWords = (mm: number, unit: RegisterUnit): string => {
  const value = String(Number(registerFromMm(mm, unit).toFixed(6)));
  return unit === '64ths' ? `${value} 64ths` : `${value} ${unit}`;
};

const lengthWords = (m: number, unit: LengthUnit, repeat_mm: number): string => {
  const value = Number(lengthFromM(m, unit, repeat_mm).toFixed(3));
  return unit === 'repeats' && !Number.isInteger(value) ? `${m} m` : `${value} ${unit}`;
};
