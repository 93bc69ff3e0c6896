import { plateGrade } from '../core/plate-grade.js';
import { flawFields, flawFrom } from '../core/plates/flaw.js';
import { notClean } from '../core/plates/not-clean.js';
import { parseKeyed } from '../core/reading.js';
import type { CheckId, PlateGrade, RecordBody, StationReading } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { namedStation } from '../core/run/named-station.js';
import type { RunState } from '../core/run/state.js';
import { stationsOf } from '../core/run/stations.js';

export type CheckWanted = {
  readonly counter_m: number;
  readonly roll: string | null;
  readonly looked: boolean;
  readonly clean: boolean;
  readonly note?: string;
  readonly at: string;
};

/**
 * A check from words `STATION:ALONG:ACROSS:PLATE:FLAWS`, each part as keyed on the board, blank or missing = not read; `STATION:in` or
 * `STATION:off` = looked at. FLAWS: counted in so many labels, and of a plate that is not clean what the flaw is, divided by commas.
 * Example: `2:5A:12O:clean` `3::4G` `5:::dirty:3/40,fill-in,leading,same` `6:in`.
 */
export const checkFromWords = (
  state: RunState,
  words: readonly string[],
  wanted: CheckWanted,
): Result<readonly RecordBody[]> => {
  const readings = new Map<string, StationReading>();
  const stations = stationsOf(state.press, state.job);
  if (wanted.looked)
    for (const s of stations)
      if (s.read !== 'never' && s.id !== state.judged.reference) readings.set(s.id, { ...blank(s.id), look: 'in' });
  if (wanted.clean)
    for (const s of stations)
      if (s.kind === 'print') readings.set(s.id, { ...(readings.get(s.id) ?? blank(s.id)), plate: 'clean' });
  for (const word of words) {
    const read = readingFrom(state, word, readings);
    if (!read.ok) return read;
    readings.set(read.value.station, read.value);
  }
  if (readings.size === 0) return fail('nothing was read: give readings like 2:5A:12O, or --looked when all is in');
  const pulled = state.judged.pulls[0];
  const check: CheckId = pulled?.check ?? state.next_check;
  const body: RecordBody = {
    type: 'check',
    check,
    web_m: pulled?.web_m ?? wanted.counter_m,
    roll: pulled?.roll ?? wanted.roll,
    pulled_at: pulled?.at ?? wanted.at,
    source: 'keyed',
    place: pulled?.place ?? null,
    readings: stations.flatMap((s) => readings.get(s.id) ?? []),
    ...(wanted.note === undefined ? {} : { note: wanted.note }),
  };
  return ok(
    pulled === undefined
      ? [{ type: 'pull', check, web_m: wanted.counter_m, roll: wanted.roll, counter: 'keyed', place: null }, body]
      : [body],
  );
};

const blank = (station: string): StationReading => ({
  station,
  along_mm: null,
  across_mm: null,
  look: null,
  edge: null,
  plate: null,
  flaws: null,
  labels: null,
});

const readingFrom = (
  state: RunState,
  word: string,
  before: ReadonlyMap<string, StationReading>,
): Result<StationReading> => {
  const [id = '', ...parts] = word.split(':');
  const named = namedStation(state, id);
  if (!named.ok) return fail(`"${word}": ${named.problem.message}`);
  const station = named.value.id;
  const was = before.get(station) ?? blank(station);
  const first = (parts[0] ?? '').trim().toLowerCase();
  if (first === 'in' || first === 'off')
    return parts.length === 1 ? ok({ ...was, look: first }) : fail(`"${word}": after "${first}" nothing more is taken`);
  const { register } = state.job.units;
  const along = parseKeyed(parts[0] ?? '', register, 'along');
  if (!along.ok) return fail(`"${word}": ${along.problem.message}`);
  const across = parseKeyed(parts[1] ?? '', register, 'across');
  if (!across.ok) return fail(`"${word}": ${across.problem.message}`);
  const grade = gradeFrom(parts[2]);
  if (!grade.ok) return fail(`"${word}": ${grade.problem.message}`);
  if (parts.length > 4)
    return fail(`"${word}": at most along, across, plate and flaws: ${station}:5A:12O:dirty:3/40,fill-in`);
  // The die has no plate: what is grown on it is no grade.
  if (grade.value !== null && !isPrint(state, station))
    return fail(`"${word}": ${station} is the die, which has no plate to grade; say it in a note (--note)`);
  const plate = grade.value ?? was.plate;
  const flaws = flawsFrom(parts[3], plate);
  if (!flaws.ok) return fail(`"${word}": ${flaws.problem.message}`);
  return ok({
    ...was,
    along_mm: along.value.mm,
    across_mm: across.value.mm,
    look: along.value.mm === null && across.value.mm === null ? was.look : null,
    plate,
    ...flaws.value,
  });
};

const isPrint = (state: RunState, id: string): boolean =>
  stationsOf(state.press, state.job).some((s) => s.id === id && s.kind === 'print');

type Flaws = Pick<StationReading, 'flaws' | 'labels' | 'flaw_kind' | 'flaw_edge' | 'flaw_comes'>;

/** What stands after the grade: `3/40`, what the flaw is, or both. */
export const flawsFrom = (text: string | undefined, plate: PlateGrade | null): Result<Partial<Flaws>> => {
  const words = (text ?? '').split(',').filter((word) => word.trim() !== '');
  const counts = words.filter((word) => /\d/.test(word));
  const flaw = flawFrom(words.filter((word) => !/\d/.test(word)).join(','));
  if (!flaw.ok) return flaw;
  const [counted] = counts;
  const found = /^\s*(\d{1,4})\/(\d{1,5})\s*$/.exec(counted ?? '');
  if (counts.length > 1) return fail(`flaws counted twice (${counts.join(' and ')}); give one count, as 3/40`);
  if (counted !== undefined && (found === null || Number(found[2]) === 0))
    return fail(`"${counted.trim()}" is no count of flaws; give flaws and the labels looked at, as 3/40`);
  if (words.length > counts.length && (plate === null || plate === 'clean'))
    return fail('what the flaw is belongs to a plate that is building or dirty');
  const against = found === null ? null : notClean(plate, Number(found[1]), Number(found[2]));
  if (against !== null) return fail(against);
  return ok({
    ...(found === null ? {} : { flaws: Number(found[1]), labels: Number(found[2]) }),
    ...flawFields(flaw.value),
  });
};

const gradeFrom = (text: string | undefined): Result<PlateGrade | null> => {
  if (text === undefined || text.trim() === '') return ok(null);
  const grade = plateGrade(text);
  return grade === null ? fail(`plate "${text}" is none of clean, building, dirty`) : ok(grade);
};
