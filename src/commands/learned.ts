import { z } from 'zod';
import { initialResponse, type KnobResponse } from '../core/adjust/response.js';
import { AXES, type Axis, type PerAxis } from '../core/axis.js';
import type { Job } from '../core/job.js';
import { learnedPlates, type PlateLearned } from '../core/plates/plates.js';
import type { Knob, Press } from '../core/press.js';
import type { Learned, MeasuredKnob, MeasuredKnobs } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { knobOf } from '../core/run/knob-of.js';
import type { RunState } from '../core/run/state.js';
import { indexRun } from '../store/index-run.js';
import { openShop } from '../store/shop.js';
import { indexedRun, type ShopData } from '../store/shop-data.js';

/** What earlier runs taught of this press's knobs and this job's plates; null = nothing yet. `said`: entries that could not be used. */
export type Recalled = { readonly learned: Learned | null; readonly said: readonly string[] };

/** Reads out of the shop file what goes into the first record of a run. An entry that is not right is left out and told. */
export const readLearned = async (dataDir: string, press: Press, job: Job): Promise<Result<Recalled>> => {
  const opened = await openShop(dataDir);
  if (!opened.ok) return opened;
  const { shop, said: repaired } = opened.value;
  const entries = shop.data().learned;
  const said: string[] = repaired === null ? [] : [repaired];
  const knobs: Record<string, PerAxis<KnobResponse>> = {};
  const plates: Record<string, PlateLearned> = {};
  const measured = recallMeasured(entries, press, said);
  for (const station of press.stations) {
    const { id, kind } = station;
    const knob = (axis: Axis): Knob => knobOf({ measured_knobs: measured }, station, axis);
    const along = recallKnob(entries, press, id, 'along', knob('along'), said);
    const across = recallKnob(entries, press, id, 'across', knob('across'), said);
    if (along !== null || across !== null)
      knobs[id] = { along: along ?? untried(knob('along')), across: across ?? untried(knob('across')) };
    const plate = kind === 'print' ? recall(entries, plateKey(press.name, job.name, id), plateEntry, said) : null;
    if (plate !== null) plates[id] = { lives: plate.lives, usual: plate.usual };
  }
  const learned: Learned = {
    ...(Object.keys(knobs).length === 0 ? {} : { knobs }),
    ...(Object.keys(plates).length === 0 ? {} : { plates }),
    ...(Object.keys(measured).length === 0 ? {} : { measured }),
  };
  return ok({ learned: Object.keys(learned).length === 0 ? null : learned, said });
};

/**
 * Keeps in the shop file what a run taught, and how it stands in the index of runs. A run that began before the one an entry is from does not change that
 * entry, so that an old run that is looked at again teaches nothing anew.
 */
export const saveLearned = async (dataDir: string, state: RunState, now = new Date()): Promise<Result<null>> => {
  const index = indexRun(dataDir, state.run);
  if (!index.ok) return index;
  const run = index.value;
  if (run === null) return fail(`run ${state.run} has no beginning yet; nothing was learned of it`);
  const opened = await openShop(dataDir);
  if (!opened.ok) return opened;
  const from: From = { v: 1, run: run.id, begun: run.begun };
  const fresh = { ...knobEntries(state, from), ...plateEntries(state, from), ...measuredEntries(state, from) };
  const changed = await opened.value.shop.change((data) => {
    const learned: ShopData['learned'] = { ...data.learned };
    for (const [key, entry] of Object.entries(fresh)) {
      const before = recall(learned, key, fromOnly, []);
      if (before === null || before.begun <= run.begun) learned[key] = { json: JSON.stringify(entry) };
    }
    // What was taken back of this run is not kept either.
    for (const [key, entry] of Object.entries(gone(data, state))) if (entry.run === run.id) delete learned[key];
    const key = keptKey(state.press.name);
    const mark = learned[key];
    if (mark === undefined || String(mark.begun ?? '') <= run.begun)
      learned[key] = { run: run.id, begun: run.begun, ended: run.ended };
    return { ...data, runs: indexedRun(data.runs, run), learned };
  }, now);
  return changed.ok ? ok(null) : changed;
};

/** Whether what a run taught is already kept: it had ended when it was. */
export const isKept = (data: ShopData, run: ShopData['runs'][number]): boolean => {
  const mark = data.learned[keptKey(run.press)];
  return mark !== undefined && mark.run === run.id && run.ended !== null && mark.ended === run.ended;
};

const keptKey = (press: string): string => `kept/${part(press)}`;

const finite = z.number();
const from = { v: z.literal(1), run: z.string(), begun: z.string() };
const fromOnly = z.object(from);
type From = z.infer<typeof fromOnly>;
const three = z.tuple([finite, finite, finite]);
const nine = z.tuple([finite, finite, finite, finite, finite, finite, finite, finite, finite]);
const knobEntry = z.strictObject({
  ...from,
  /** What the press file said when it was learned: said otherwise, it is another knob. */
  sense: z.union([z.literal(1), z.literal(-1)]),
  division_mm: finite.nullable(),
  response: z.strictObject({
    moves: z.int().min(1),
    mean: three,
    cov: nine.refine((cov) => [0, 4, 8].every((i) => (cov[i] ?? -1) >= 0)),
    sense_log_odds: finite.min(-8).max(8),
    last: z.union([z.literal(1), z.literal(-1)]).nullable(),
  }),
});
const sense = z.union([z.literal(1), z.literal(-1)]);
const measuredEntry = z.strictObject({
  ...from,
  division_mm: finite.gt(0).max(10),
  sense,
  /** What the press file said when it was measured: said otherwise, the file knows better now. */
  file_division_mm: finite.nullable(),
  file_sense: sense,
});
const positive = finite.min(0);
const plateEntry = z.strictObject({
  ...from,
  lives: z
    .array(z.strictObject({ from_m: positive, to_m: positive.nullable() }))
    .max(60)
    .refine((lives) => lives.every(({ from_m, to_m }) => to_m === null || to_m >= from_m)),
  usual: z.strictObject({ flaws: positive, labels: positive, squares: positive, checks: positive }),
});

const recallKnob = (
  entries: ShopData['learned'],
  press: Press,
  station: string,
  axis: Axis,
  knob: Knob,
  said: string[],
): KnobResponse | null => {
  const key = knobKey(press.name, station, axis);
  const entry = recall(entries, key, knobEntry, said);
  if (entry === null) return null;
  // Whether its direction is given stands in the press file, not in what was learned.
  if (entry.sense === knob.sense && entry.division_mm === knob.division_mm)
    return { ...entry.response, ...(knob.sense_given ? { sense_given: true } : {}) };
  said.push(
    `the press file says something else of ${station} ${axis} than when its knob was learned: it is learned anew`,
  );
  return null;
};

/** Knobs that were measured and stand in the press file as they did then. */
const recallMeasured = (entries: ShopData['learned'], press: Press, said: string[]): MeasuredKnobs => {
  const measured: Record<string, Partial<Record<Axis, MeasuredKnob>>> = {};
  for (const { id, knobs } of press.stations)
    for (const axis of AXES) {
      const entry = recall(entries, measuredKey(press.name, id, axis), measuredEntry, said);
      if (entry === null) continue;
      const { division_mm, sense } = entry;
      if (entry.file_division_mm !== knobs[axis].division_mm || entry.file_sense !== knobs[axis].sense) continue;
      if (division_mm === knobs[axis].division_mm && sense === knobs[axis].sense) continue;
      measured[id] = { ...measured[id], [axis]: { division_mm, sense } };
      said.push(
        `the knob of station ${id} ${axis} was measured; the run goes by that. The press file should say it: station "${id}", ${JSON.stringify({ [axis]: { division_mm, sense } })}`,
      );
    }
  return measured;
};

/** What the shop file keeps of a knob that was measured in this run; null = nothing. */
export const keptMeasured = (data: ShopData, state: RunState, station: string, axis: Axis): MeasuredKnob | null => {
  const entry = recall(data.learned, measuredKey(state.press.name, station, axis), measuredEntry, []);
  return entry === null || entry.run !== state.run ? null : entry;
};

const untried = (knob: Knob): KnobResponse => initialResponse(knob.sense_given);

const recall = <T>(entries: ShopData['learned'], key: string, schema: z.ZodType<T>, said: string[]): T | null => {
  const text = Object.hasOwn(entries, key) ? entries[key]?.json : undefined;
  if (text === undefined || text === null) return null;
  const read = schema.safeParse(parsed(String(text)));
  if (read.success) return read.data;
  said.push(`what the shop file says of ${key} cannot be read; it is left out and will be learned anew`);
  return null;
};

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
};

const knobEntries = (state: RunState, from: From): Readonly<Record<string, z.infer<typeof knobEntry>>> =>
  Object.fromEntries(
    state.press.stations.flatMap((station) =>
      AXES.flatMap((axis) => {
        const { id } = station;
        const response = state.judged.knobs[id]?.[axis];
        if (response === undefined || response.moves === 0) return [];
        const { sense, division_mm } = knobOf(state.judged, station, axis);
        const { moves, mean, cov, sense_log_odds, last } = response;
        const kept = { moves, mean: three.parse(mean), cov: nine.parse(cov), sense_log_odds, last };
        return [[knobKey(state.press.name, id, axis), { ...from, sense, division_mm, response: kept }]];
      }),
    ),
  );

/** Entries of knobs measured that this run does not say (any more). */
const gone = (data: ShopData, state: RunState): Readonly<Record<string, { readonly run: string }>> =>
  Object.fromEntries(
    state.press.stations.flatMap(({ id }) =>
      AXES.flatMap((axis) => {
        const key = measuredKey(state.press.name, id, axis);
        const entry = recall(data.learned, key, measuredEntry, []);
        return entry === null || state.judged.measured_knobs[id]?.[axis] !== undefined ? [] : [[key, entry]];
      }),
    ),
  );

const measuredEntries = (state: RunState, from: From): Readonly<Record<string, z.infer<typeof measuredEntry>>> =>
  Object.fromEntries(
    state.press.stations.flatMap(({ id, knobs }) =>
      AXES.flatMap((axis) => {
        const measured = state.judged.measured_knobs[id]?.[axis];
        if (measured === undefined) return [];
        const file = { file_division_mm: knobs[axis].division_mm, file_sense: knobs[axis].sense };
        return [[measuredKey(state.press.name, id, axis), { ...from, ...measured, ...file }]];
      }),
    ),
  );

const plateEntries = (state: RunState, from: From): Readonly<Record<string, z.infer<typeof plateEntry>>> =>
  Object.fromEntries(
    Object.entries(learnedPlates(state.judged.plates)).flatMap(([id, { lives, usual }]) => {
      if (lives.length === 0 && usual.labels === 0) return [];
      const { flaws, labels, squares, checks } = usual;
      const rounded = lives.map(({ from_m, to_m }) => ({
        from_m: tenth(from_m),
        to_m: to_m === null ? null : tenth(to_m),
      }));
      return [
        [
          plateKey(state.press.name, state.job.name, id),
          { ...from, lives: rounded, usual: { flaws, labels, squares, checks } },
        ],
      ];
    }),
  );

/** A tenth of a metre is far finer than checks are apart. */
const tenth = (m: number): number => Number(m.toFixed(1));

const knobKey = (press: string, station: string, axis: Axis): string => `knob/${part(press)}/${part(station)}/${axis}`;
const measuredKey = (press: string, station: string, axis: Axis): string =>
  `measured/${part(press)}/${part(station)}/${axis}`;
const plateKey = (press: string, job: string, station: string): string =>
  `plate/${part(press)}/${part(job)}/${part(station)}`;

/** A name with a stroke in it stays one part of a key. */
const part = (name: string): string => name.replace(/%/g, '%25').replace(/\//g, '%2F');
