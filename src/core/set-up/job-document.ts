import type { JobFile } from '../job-schema.js';
import type { Press } from '../press.js';
import { jobStations } from './job-stations.js';
import { lengthUnitOf, registerUnitOf, rollAsked } from './job-units.js';
import type { Answers } from './question.js';
import { understandLength } from './understand-length.js';
import { understandMinutes } from './understand-minutes.js';
import { understandTolerance } from './understand-tolerance.js';

/** The job file that the answers make; null = not all is answered. What an earlier file of this job says beyond the questions is kept, as far as its stations are still used. */
export const jobDocument = (answers: Answers, press: Press, before: JobFile | null): JobFile | null => {
  const stations = jobStations(answers, press);
  const { 'job.name': name, 'job.reference': reference, 'job.teeth': teeth, 'job.every_roll': every_roll } = answers;
  if (stations === null || name === undefined || reference === undefined || teeth === undefined) return null;
  const used = new Set(stations.map(({ id }) => id));
  const read = new Map(stations.map((station) => [station.id, station.read]));
  const roll_m = metres(answers, 'job.roll', press);
  const every_m = metres(answers, 'job.every_m', press);
  const minutes = understandMinutes(answers['job.every_min'] ?? '');
  const { pairs, tolerance, finished_roll_m: _roll, checks: _checks, ...kept } = before ?? { format: 'job/1' as const };
  const keptPairs = pairs?.filter((pair) => pair.stations.every((id) => used.has(id) && read.get(id) !== 'never'));
  const own = Object.entries(tolerance?.stations ?? {}).filter(([id]) => used.has(id));
  return {
    ...kept,
    format: 'job/1',
    name,
    units: { register: registerUnitOf(answers), length: lengthUnitOf(answers) },
    repeat_teeth: Number(teeth),
    labels_across: Number(answers['job.labels.across'] ?? 1),
    labels_around: Number(answers['job.labels.around'] ?? 1),
    reference,
    stations: stations.map(({ id, ink, read }) => {
      const { ink: _ink, read: _read, ...rest } = before?.stations.find((one) => one.id === id) ?? { id };
      return { ...rest, ...(ink === null ? {} : { ink }), ...(read === null || read === 'measure' ? {} : { read }) };
    }),
    tolerance: {
      ...limits(answers, 'print'),
      ...limits(answers, 'die'),
      ...(own.length === 0 ? {} : { stations: Object.fromEntries(own) }),
    },
    ...(keptPairs === undefined || keptPairs.length === 0 ? {} : { pairs: keptPairs }),
    checks: {
      every_roll: every_roll !== 'n',
      ...(every_m === null ? {} : { every_m }),
      ...(minutes.ok ? { every_min: minutes.value } : {}),
    },
    ...(roll_m === null ? {} : { finished_roll_m: roll_m }),
  };
};

const metres = (answers: Answers, key: string, press: Press): number | null => {
  const length = understandLength(answers[key] ?? '', rollAsked(answers, press.tooth_mm));
  return length.ok ? length.value.m : null;
};

const limits = (answers: Answers, what: 'print' | 'die') => {
  const mm = (axis: 'along' | 'across'): number | null => {
    const tolerance = understandTolerance(answers[`job.tolerance.${what}.${axis}`] ?? '', registerUnitOf(answers));
    return tolerance.ok ? tolerance.value.mm : null;
  };
  const [along_mm, across_mm] = [mm('along'), mm('across')];
  return along_mm === null || across_mm === null ? {} : { [what]: { along_mm, across_mm } };
};
