import { type FileTrouble, fileProblem, schemaTroubles } from '../core/file-problem.js';
import { nearest } from '../core/nearest.js';
import { parseJson } from '../core/parse-json.js';
import { quoted } from '../core/quoted.js';
import { ok, type Result } from '../core/result.js';
import { type Station, stationsOf } from '../core/run/stations.js';
import type { PracticeCause } from './cause.js';
import type { Exercise } from './exercise.js';
import { CAUSE_KINDS, type FaultFile, faultSchema } from './fault-schema.js';
import { practiceSetup } from './practice-press.js';

/** An instructor's exercise from the text of a fault file, or everything that is wrong or impossible in it: file, key, what was found, what is allowed. */
export const readFault = (text: string, fileName: string, seed: number): Result<Exercise> => {
  const json = parseJson(text, fileName);
  if (!json.ok) return json;
  const parsed = faultSchema.safeParse(json.value);
  if (!parsed.success)
    return fileProblem(
      fileName,
      schemaTroubles(faultSchema, json.value, parsed.error.issues).map(withKinds(json.value)),
    );
  const file = parsed.data;
  const troubles = impossible(file);
  return troubles.length > 0 ? fileProblem(fileName, troubles) : ok(exerciseOf(file, seed));
};

/** A kind of cause that there is none of is told with those there are. */
const withKinds =
  (file: unknown) =>
  (trouble: FileTrouble): FileTrouble => {
    if (trouble.path.at(-1) !== 'kind') return trouble;
    const found = trouble.path.reduce((at: unknown, key) => Reflect.get(Object(at), key), file);
    const near = typeof found === 'string' ? nearest(found, CAUSE_KINDS) : null;
    return {
      ...trouble,
      why: `${found === undefined ? 'missing' : `found ${quoted(found)}`}; allowed: ${CAUSE_KINDS.map((k) => quoted(k)).join(', ')}${near === null ? '' : `, did you mean ${quoted(near)}?`}`,
    };
  };

const exerciseOf = (file: FaultFile, seed: number): Exercise => ({
  id: 'file',
  title: file.name,
  task:
    file.task ??
    (file.make_ready === true
      ? 'Bring it in, give OK to run, and hold it to the end.'
      : 'The job was passed and runs. Hold it in register to the end.'),
  seed,
  make_ready: file.make_ready ?? false,
  standing: file.standing ?? false,
  out_mm: Object.fromEntries(
    Object.entries(file.out ?? {}).map(([id, mm]) => [id, { along: mm.along_mm ?? 0, across: mm.across_mm ?? 0 }]),
  ),
  causes: (file.causes ?? []).map((c): PracticeCause => (c.kind === 'creep' ? { ...c, held: c.held ?? true } : c)),
  knobs: file.play ?? [],
  splices_m: (file.splices_m ?? []).toSorted((a, b) => a - b),
  to_m: file.to_m,
});

/** What no press could do, and what no student could cure. */
const impossible = (file: FaultFile): readonly FileTrouble[] => {
  const { press, job } = practiceSetup();
  const stations = stationsOf(press, job);
  const known = stations.map((s) => s.id);
  const troubles: FileTrouble[] = [];
  const add = (path: FileTrouble['path'], why: string): void => {
    troubles.push({ path, why });
  };
  const station = (id: string, path: FileTrouble['path']): Station | undefined => {
    const found = stations.find((s) => s.id === id);
    const near = nearest(id, known);
    if (found === undefined)
      add(
        path,
        `found ${quoted(id)}, which is not on the practice press; allowed: ${known.map((k) => quoted(k)).join(', ')}${near === null ? '' : `, did you mean ${quoted(near)}?`}`,
      );
    return found;
  };
  const inside = (m: number, path: FileTrouble['path']): void => {
    if (m >= file.to_m)
      add(path, `found ${m}, at or after the end of the exercise; allowed: less than to_m, ${file.to_m}`);
  };
  const begins = file.make_ready ?? false;
  if (file.standing === true && !begins)
    add(['standing'], 'found true, but a run that was passed is running; allowed: true only with "make_ready": true');
  for (const [id, mm] of Object.entries(file.out ?? {})) {
    const found = station(id, ['out', id]);
    if (!begins && ((mm.along_mm ?? 0) !== 0 || (mm.across_mm ?? 0) !== 0))
      add(['out', id], 'a run that was passed begins in register; allowed: only with "make_ready": true');
    if (found !== undefined) reachable(found, 'across', mm.across_mm ?? 0, ['out', id, 'across_mm'], add);
  }
  for (const [i, m] of (file.splices_m ?? []).entries()) inside(m, ['splices_m', i]);
  for (const [i, c] of (file.causes ?? []).entries()) {
    const path = ['causes', i];
    const from = 'at_m' in c ? c.at_m : 'from_m' in c ? c.from_m : null;
    if (from !== null) inside(from, [...path, 'at_m' in c ? 'at_m' : 'from_m']);
    if (!('station' in c)) continue;
    const found = station(c.station, [...path, 'station']);
    if (found === undefined) continue;
    if (c.kind === 'dirt' && found.kind === 'die')
      add([...path, 'station'], 'found the die, which has no plate; allowed: a print station');
    if (c.kind === 'misread' && found.id === job.reference)
      add([...path, 'station'], 'found the reference, which the others are read against; allowed: another station');
    if ((c.kind === 'creep' || c.kind === 'slip') && found.fixed.includes(c.axis))
      add(
        [...path, 'axis'],
        `found ${quoted(c.axis)}, but ${quoted(found.id)} is fixed there and cannot move; allowed: "along"`,
      );
    if (c.kind === 'slip') reachable(found, c.axis, c.axis === 'across' ? c.mm : 0, [...path, 'mm'], add);
    if (c.kind === 'tooth' && c.teeth === 0)
      add([...path, 'teeth'], 'found 0; allowed: a number of teeth other than 0');
  }
  for (const [i, k] of (file.play ?? []).entries()) station(k.station, ['play', i, 'station']);
  return troubles;
};

/** Side to side there are no teeth: beyond the knob's travel nothing brings it back. */
const reachable = (
  station: Station,
  axis: 'along' | 'across',
  mm: number,
  path: FileTrouble['path'],
  add: (path: FileTrouble['path'], why: string) => void,
): void => {
  const travel = station.knobs[axis].travel_mm ?? Infinity;
  if (axis === 'across' && Math.abs(mm) > travel)
    add(
      path,
      `found ${mm}, beyond what the knob of ${quoted(station.id)} can bring back; allowed: from -${travel} to ${travel}`,
    );
};
