import { AXES, type PerAxis } from './axis.js';
import { defaultReference } from './default-reference.js';
import { type FileTrouble, fileProblem, schemaTroubles } from './file-problem.js';
import { BRING_IN, type Job, type JobStation, type Pair, SENSOR_CHECKS, type SensorChecks } from './job.js';
import { type JobFile, jobSchema } from './job-schema.js';
import { nearest } from './nearest.js';
import { parseJson } from './parse-json.js';
import type { Press } from './press.js';
import { quoted } from './quoted.js';
import { ok, type Result } from './result.js';

/**
 * Reads the text of a job file against its press: every default filled in, the reference chosen when none is named, a tolerance for every
 * station on both axes. A die without its own tolerance has that of print. Anything wrong refuses the whole file with one line a trouble.
 */
export const readJob = (text: string, fileName: string, press: Press): Result<Job> => {
  const json = parseJson(text, fileName);
  if (!json.ok) return json;
  const read = jobSchema.safeParse(json.value);
  if (!read.success) return fileProblem(fileName, schemaTroubles(jobSchema, json.value, read.error.issues));
  const file = read.data;
  const stations = file.stations.map(stationOf);
  const reference = file.reference ?? defaultReference(press, stations);
  const tolerance = toleranceOfAll(file, press, reference);
  const troubles = [
    ...stationTroubles(file, press),
    ...referenceTroubles(file, press, reference),
    ...tolerance.troubles,
    ...pairTroubles(file),
    ...sensorTroubles(file),
  ];
  if (troubles.length > 0 || reference === null) return fileProblem(fileName, troubles);
  return ok({
    name: file.name.trim(),
    units: { register: file.units?.register ?? 'mm', length: file.units?.length ?? 'm' },
    repeat_teeth: file.repeat_teeth,
    labels_across: file.labels_across ?? 1,
    labels_around: file.labels_around ?? 1,
    marks: file.marks ?? 'label',
    reference,
    stations,
    tolerance_mm: tolerance.mm,
    pairs: (file.pairs ?? []).map(pairOf),
    reading: {
      resolution_mm: file.reading?.resolution_mm ?? 0.05,
      spread_mm: spreadOf(file),
      spread_worth_checks: file.reading?.spread_worth_checks ?? 10,
    },
    checks: {
      every_roll: file.checks?.every_roll ?? true,
      every_m: file.checks?.every_m ?? null,
      every_min: file.checks?.every_min ?? null,
    },
    sensor_checks: sensorChecksOf(file),
    ...tracedOf(file),
    bring_in: file.bring_in ?? BRING_IN,
    settle_m: file.settle_m ?? SETTLE_M,
    finished_roll_m: file.finished_roll_m ?? null,
    false_notice: { keyed: file.false_notice?.keyed ?? 200, sensor: file.false_notice?.sensor ?? 20_000 },
  });
};

/** Metres in which readings settle when the job does not say; common practice, no source. */
const SETTLE_M = 60;
const SPREAD_MM = 0.04;
/** The widest tolerance the schema takes; stands where nothing is judged. */
const WIDEST_MM = 50;

const tracedOf = (file: JobFile): Pick<Job, 'traced'> => {
  const stations = Object.fromEntries(
    file.stations.flatMap(({ id, ink_lot = null, anilox = null }) =>
      ink_lot === null && anilox === null ? [] : [[id, { ink_lot, anilox }]],
    ),
  );
  const { order = null, customer = null, quantity = null, substrate = null } = file;
  const { substrate_lot = null, plate_set = null, die_number = null, extra = {} } = file;
  const traced = { order, customer, quantity, substrate, substrate_lot, plate_set, die_number, stations, extra };
  const given = Object.values(traced).some((v) => v !== null && (typeof v !== 'object' || Object.keys(v).length > 0));
  return given ? { traced } : {};
};

const stationOf = (station: JobFile['stations'][number]): JobStation => ({
  id: station.id,
  ink: station.ink?.trim() ?? null,
  aim_mm: { along: station.aim?.along_mm ?? 0, across: station.aim?.across_mm ?? 0 },
  read: station.read ?? 'measure',
});

const pairOf = (pair: NonNullable<JobFile['pairs']>[number]): Pair => ({
  stations: pair.stations,
  tolerance_mm: { along: pair.along_mm ?? null, across: pair.across_mm ?? null },
});

const spreadOf = (file: JobFile): PerAxis<number> => {
  const given = file.reading?.spread_mm;
  if (typeof given === 'number') return { along: given, across: given };
  return { along: given?.along ?? SPREAD_MM, across: given?.across ?? SPREAD_MM };
};

const stationTroubles = (file: JobFile, press: Press): readonly FileTrouble[] => {
  const onPress = press.stations.map(({ id }) => id);
  return file.stations.flatMap(({ id }, index) => {
    const path = ['stations', index, 'id'];
    const first = file.stations.findIndex((station) => station.id === id);
    if (first < index)
      return [{ path, why: `found ${quoted(id)}, which stations[${first}] already has; every id once` }];
    return onPress.includes(id) ? [] : [{ path, why: notAmong(id, onPress, `on the press ${quoted(press.name)}`) }];
  });
};

const referenceTroubles = (file: JobFile, press: Press, reference: string | null): readonly FileTrouble[] => {
  const path = ['reference'];
  if (reference === null)
    return [
      { path, why: 'missing, and no print station has a mark to read; give one print station "read": "measure"' },
    ];
  const station = file.stations.find(({ id }) => id === reference);
  const prints = press.stations
    .filter(({ id, kind }) => kind === 'print' && file.stations.some((inJob) => inJob.id === id))
    .map(({ id }) => id);
  if (station === undefined) return [{ path, why: notAmong(reference, prints, 'a print station of the job') }];
  const kind = press.stations.find(({ id }) => id === reference)?.kind;
  if (kind === 'die')
    return [
      {
        path,
        why: `found ${quoted(reference)}, which is the die; allowed: a print station of the job: ${listed(prints)}`,
      },
    ];
  if (station.read === 'never')
    return [
      {
        path,
        why: `found ${quoted(reference)}, which has "read": "never"; the reference needs a mark that can be read`,
      },
    ];
  return [];
};

const toleranceOfAll = (file: JobFile, press: Press, reference: string | null) => {
  const troubles: FileTrouble[] = [];
  const mm: Record<string, PerAxis<number>> = {};
  const { print, die, stations = {} } = file.tolerance;
  const ids = file.stations.map(({ id }) => id);
  for (const id of Object.keys(stations)) {
    if (!ids.includes(id)) troubles.push({ path: ['tolerance', 'stations', id], why: notAmong(id, ids, 'in the job') });
  }
  for (const { id, read } of file.stations) {
    const isDie = press.stations.find((station) => station.id === id)?.kind === 'die';
    const own = Object.hasOwn(stations, id) ? stations[id] : undefined;
    const given = (key: 'along_mm' | 'across_mm') => own?.[key] ?? (isDie ? die?.[key] : undefined) ?? print?.[key];
    const missing = AXES.filter((axis) => given(`${axis}_mm`) === undefined);
    // Nothing is judged at the reference or where nothing is read, so neither needs a tolerance of its own.
    const needed = read !== 'never' && id !== reference;
    if (needed && missing[0] !== undefined) {
      const path = ['tolerance', isDie ? 'die' : 'print', `${missing[0]}_mm`];
      if (!troubles.some((trouble) => trouble.path.join() === path.join()))
        troubles.push({
          path,
          why: `missing, and station ${quoted(id)} has no tolerance of its own; give mm each way from the aim`,
        });
    }
    mm[id] = { along: given('along_mm') ?? WIDEST_MM, across: given('across_mm') ?? WIDEST_MM };
  }
  return { mm, troubles };
};

const pairTroubles = (file: JobFile): readonly FileTrouble[] => {
  const ids = file.stations.map(({ id }) => id);
  const seen = new Set<string>();
  return (file.pairs ?? []).flatMap((pair, index): readonly FileTrouble[] => {
    const path = ['pairs', index, 'stations'];
    const unknown = pair.stations.find((id) => !ids.includes(id));
    if (unknown !== undefined) return [{ path, why: notAmong(unknown, ids, 'in the job') }];
    if (pair.stations[0] === pair.stations[1])
      return [{ path, why: `found ${quoted(pair.stations[0])} twice; a pair is two stations` }];
    const never = pair.stations.find((id) =>
      file.stations.some((station) => station.id === id && station.read === 'never'),
    );
    if (never !== undefined)
      return [
        { path, why: `found ${quoted(never)}, which has "read": "never"; a pair needs two marks that can be read` },
      ];
    if (pair.along_mm === undefined && pair.across_mm === undefined)
      return [{ path: ['pairs', index], why: 'no tolerance; give along_mm or across_mm, mm of difference each way' }];
    const key = pair.stations.toSorted().join('\n');
    if (seen.has(key)) return [{ path, why: `found ${listed(pair.stations)}, a pair given before; every pair once` }];
    seen.add(key);
    return [];
  });
};

const sensorChecksOf = ({ sensor_checks: given }: JobFile): SensorChecks => {
  if (given === undefined) return SENSOR_CHECKS;
  const marks_per_repeat = given.marks_per_repeat ?? SENSOR_CHECKS.marks_per_repeat;
  const window: Pick<SensorChecks, 'by' | 'size'> =
    given.every_m !== undefined
      ? { by: 'metres', size: given.every_m }
      : given.every_s !== undefined
        ? { by: 'seconds', size: given.every_s }
        : { by: 'repeats', size: given.every_repeats ?? SENSOR_CHECKS.size };
  // A check of three repeats can't have five good ones.
  const most = window.by === 'repeats' ? window.size * marks_per_repeat : Infinity;
  return { ...window, marks_per_repeat, fewest_good: given.fewest_good ?? Math.min(SENSOR_CHECKS.fewest_good, most) };
};

const sensorTroubles = (file: JobFile): readonly FileTrouble[] => {
  const given = file.sensor_checks;
  if (given === undefined) return [];
  const said = (['every_repeats', 'every_m', 'every_s'] as const).filter((key) => given[key] !== undefined);
  if (said[1] !== undefined)
    return [
      {
        path: ['sensor_checks', said[1]],
        why: `found beside ${said[0]}; a sensor check ends by repeats, metres or seconds: give one of them`,
      },
    ];
  const { by, size, marks_per_repeat, fewest_good } = sensorChecksOf(file);
  const most = size * marks_per_repeat;
  if (by !== 'repeats' || fewest_good <= most) return [];
  return [
    {
      path: ['sensor_checks', 'fewest_good'],
      why: `found ${fewest_good}, more than the ${most} readings of a station in one check; allowed: 1 to ${most}`,
    },
  ];
};

const notAmong = (found: string, known: readonly string[], where: string): string => {
  const meant = nearest(found, known);
  return `found ${quoted(found)}, which is not ${where}; allowed: ${listed(known)}${meant === null ? '' : `, did you mean ${quoted(meant)}?`}`;
};

const listed = (ids: readonly string[]): string => ids.map((id) => quoted(id)).join(', ');
