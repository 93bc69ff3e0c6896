import type { Axis } from './axis.js';
import { type FileTrouble, fileProblem, schemaTroubles } from './file-problem.js';
import { toothMm } from './gear.js';
import { parseJson } from './parse-json.js';
import type { Knob, Press, PressStation } from './press.js';
import { type PressFile, pressSchema } from './press-schema.js';
import { quoted } from './quoted.js';
import { ok, type Result } from './result.js';

/**
 * Reads the text of a press file: every default filled in, stations in web order, the key paths that stand at a default listed as not measured.
 *
 * A station without `at_m` stands `spacing_m` after the station before it in the file, the first one `spacing_m` from the unwind. A knob key not given
 * at the station is taken from `knobs`. Anything wrong refuses the whole file with one line a trouble.
 */
export const readPress = (text: string, fileName: string): Result<Press> => {
  const json = parseJson(text, fileName);
  if (!json.ok) return json;
  const read = pressSchema.safeParse(json.value);
  if (!read.success) return fileProblem(fileName, schemaTroubles(pressSchema, json.value, read.error.issues));
  const file = read.data;
  const tooth = toothOf(file);
  const places = placesOf(file);
  const troubles = [
    ...tooth.troubles,
    ...places.troubles,
    ...stationTroubles(file),
    ...sampleTroubles(file, places.at_m),
  ];
  if (troubles.length > 0) return fileProblem(fileName, troubles);
  const stations = file.stations.map((_, index) => stationOf(file, index, places.at_m[index] ?? 0));
  return ok({
    name: file.name.trim(),
    gear: file.gear?.trim() ?? null,
    tooth_mm: tooth.mm,
    web_runs: file.web_runs ?? 'left-to-right',
    roll_change: file.roll_change ?? null,
    stations: stations.toSorted((a, b) => a.at_m - b.at_m),
    sample_m: file.sample_m,
    samples: { ...file.samples },
    sensor_m: file.sensor_m ?? null,
    helix_deg: file.helix_deg ?? 0,
    not_measured: notMeasured(file, stations),
  });
};

const toothOf = (file: PressFile): { readonly mm: number; readonly troubles: readonly FileTrouble[] } => {
  if (file.gear === undefined) {
    if (file.tooth_mm !== undefined) return { mm: file.tooth_mm, troubles: [] };
    return {
      mm: 0,
      troubles: [{ path: ['gear'], why: 'missing; give the gear by name, as "1/8 in CP", or tooth_mm' }],
    };
  }
  const named = toothMm(file.gear);
  if (!named.ok) return { mm: 0, troubles: [{ path: ['gear'], why: `found ${named.problem.why}` }] };
  const given = file.tooth_mm;
  // Written to four figures at least, the two must say the same tooth.
  if (given !== undefined && Math.abs(given - named.value) > 0.0005 * named.value) {
    const why = `found ${given}, but gear ${quoted(file.gear)} is ${Number(named.value.toPrecision(6))} mm a tooth; correct one or take it out`;
    return { mm: 0, troubles: [{ path: ['tooth_mm'], why }] };
  }
  return { mm: named.value, troubles: [] };
};

const placesOf = (file: PressFile): { readonly at_m: readonly number[]; readonly troubles: readonly FileTrouble[] } => {
  const at_m: number[] = [];
  const troubles: FileTrouble[] = [];
  for (const [index, station] of file.stations.entries()) {
    const before = at_m[index - 1] ?? 0;
    const place =
      station.at_m ?? (file.spacing_m === undefined ? Number.NaN : Number((before + file.spacing_m).toFixed(6)));
    const twin = at_m.indexOf(place);
    if (Number.isNaN(place))
      troubles.push({
        path: ['stations', index, 'at_m'],
        why: 'missing; give at_m (metres of web path from the unwind), or spacing_m once for all',
      });
    else if (place > 1000)
      troubles.push({
        path: ['spacing_m'],
        why: `found ${file.spacing_m}; it puts station ${quoted(station.id)} at ${place} m; allowed: up to 1000 m`,
      });
    else if (twin >= 0)
      troubles.push({
        path: ['stations', index, 'at_m'],
        why: `found ${place}, where station ${quoted(file.stations[twin]?.id)} already stands`,
      });
    at_m.push(place);
  }
  return { at_m, troubles };
};

const stationTroubles = (file: PressFile): readonly FileTrouble[] => {
  const troubles: FileTrouble[] = [];
  for (const [index, { id }] of file.stations.entries()) {
    const first = file.stations.findIndex((station) => station.id === id);
    if (first < index)
      troubles.push({
        path: ['stations', index, 'id'],
        why: `found ${quoted(id)}, which stations[${first}] already has; every id once`,
      });
  }
  if (!file.stations.some(({ kind }) => kind === 'print'))
    troubles.push({ path: ['stations'], why: 'no station has kind "print"; at least one must' });
  return troubles;
};

const sampleTroubles = (file: PressFile, at_m: readonly number[]): readonly FileTrouble[] => {
  const last = at_m.reduce((best, place, index) => (place > (at_m[best] ?? 0) ? index : best), 0);
  if (!(file.sample_m < (at_m[last] ?? 0))) return [];
  const why = `found ${file.sample_m}; a sample pulled at the rewind has passed every station, the last is ${quoted(file.stations[last]?.id)} at ${at_m[last]} m`;
  return [{ path: ['sample_m'], why }];
};

const stationOf = (file: PressFile, index: number, at_m: number): PressStation => {
  const station = file.stations[index];
  return {
    id: station?.id ?? '',
    kind: station?.kind ?? 'print',
    at_m,
    fixed: [...new Set(station?.fixed ?? [])],
    knobs: { along: knobOf(file, index, 'along'), across: knobOf(file, index, 'across') },
  };
};

type KnobFile = NonNullable<PressFile['stations'][number]['along']> &
  NonNullable<PressFile['stations'][number]['across']>;

/** What is said of a knob at its station, over what is said of all knobs. */
const saidOf = (file: PressFile, index: number, axis: Axis): KnobFile => ({
  ...file.knobs?.[axis],
  ...file.stations[index]?.[axis],
});

const knobOf = (file: PressFile, index: number, axis: Axis): Knob => {
  const said = saidOf(file, index, axis);
  return {
    division_mm: said.division_mm ?? null,
    travel_mm: said.travel_mm ?? null,
    ...(said.centred === true ? { centred: true } : {}),
    sense: said.sense ?? 1,
    sense_given: said.sense !== undefined,
    word: said.word?.trim() ?? 'divisions',
    while_running: said.while_running ?? null,
    hand_plus: (axis === 'along' ? said.to_advance : said.to_operator) ?? null,
  };
};

const notMeasured = (file: PressFile, stations: readonly PressStation[]): readonly string[] => {
  const top = (['web_runs', 'roll_change', 'sensor_m', 'helix_deg'] as const).filter((key) => file[key] === undefined);
  const knobs = stations.flatMap((station, index) =>
    (['along', 'across'] as const)
      .filter((axis) => !station.fixed.includes(axis))
      .flatMap((axis) => {
        const said = saidOf(file, index, axis);
        const hand = axis === 'along' ? 'to_advance' : 'to_operator';
        const keys = ['division_mm', 'travel_mm', 'sense', 'while_running', hand] as const;
        return keys.filter((key) => said[key] === undefined).map((key) => `stations.${station.id}.${axis}.${key}`);
      }),
  );
  return [...top, ...knobs];
};
