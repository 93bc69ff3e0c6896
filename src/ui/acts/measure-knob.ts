import type { Axis } from '../../core/axis.js';
import type { RecordBody } from '../../core/record.js';
import { fail, ok, type Result } from '../../core/result.js';
import { markWords } from '../../core/views/act-words.js';
import { atCounter } from '../../core/views/at-counter.js';
import type { StationView, TrialView } from '../../core/views/board-view.js';
import { rateWords, registerUnitName, signedNumber } from '../../core/views/number-words.js';
import { type Choice, choiceField, type Form, numberField, textOf } from '../form.js';
import type { Act, ActContext, Outcome } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';
import { axisOf, stationOf } from './knob-fields.js';

/** A knob is measured: read, turn ten divisions, read again. The turn is on record at once, what it says when the second reading is. */
export const measureKnob: Act = {
  name: 'measure-knob',
  title: 'measure a knob',
  open: (context) => {
    const { trial } = context.view;
    if (trial === null) return openTurn(context);
    const { result } = trial;
    if (result === null) return fail(waitsFor(trial, context));
    const blank: Form = { act: 'measure-knob', at: 0, message: null, carried: {}, fields: [] };
    if (result.kind === 'measured') return ok(blank);
    const more = Math.max(1, (result.divisions ?? 2 * Math.abs(trial.divisions)) - Math.abs(trial.divisions));
    return ok({ ...blank, fields: [numberField('divisions', 'divisions', String(more)), counterField(context)] });
  },
  revise: (form, context) => {
    if (context.view.trial !== null) return form;
    const axis = axisOf(form);
    const fields = form.fields.map((one) => {
      if (one.name === 'station') return { ...one, choices: stationsFor(context, axis) };
      return one.name === 'way' ? { ...one, choices: MARKED[axis] } : one;
    });
    return { ...form, fields };
  },
  sentence: (form, context) => {
    const { trial } = context.view;
    if (trial !== null) return whatItSays(trial, form, context);
    const station = stationOf(form, context);
    const axis = axisOf(form);
    const knob = station?.knob[axis];
    const turn = `Measure the knob of ${station?.label ?? '?'} ${axis}: turn it ${textOf(form, 'divisions') || '...'} ${knob?.word ?? 'divisions'} the way marked ${markOf(axis, wayOf(form))}. Turned, at ${counterWords(form, context)}?`;
    if (knob?.before == null) return `${turn} It must be read first.`;
    const slack =
      knob.last_way !== null && knob.last_way !== wayOf(form) ? ' Last turned the other way: slack counts in.' : '';
    return `${turn} Before it: ${readingWords(knob.before, context)}.${slack}`;
  },
  caution: (_form, context) =>
    context.view.trial?.result?.kind === 'measured'
      ? ''
      : 'Out of register till turned back: best in make-ready. Press manual first.',
  outcome: (form, context) => {
    const { trial } = context.view;
    if (trial === null) return turned(form, context);
    return trial.result?.kind === 'measured' ? measured(trial, context) : turnedMore(trial, form, context);
  },
};

const MARKED = {
  along: [
    { value: '1', label: 'ADVANCE' },
    { value: '-1', label: 'RETARD' },
  ],
  across: [
    { value: '1', label: 'OPERATOR SIDE' },
    { value: '-1', label: 'GEAR SIDE' },
  ],
} as const;

const DIVISIONS = 10;
/** What a division is taken for until it is measured, where no other knob of the press is known either, mm (no source; the trial puts it right). */
const TAKEN_FOR_MM = 0.02;

/** Only what is read can tell what its knob does. */
const readStations = (context: ActContext): readonly StationView[] =>
  context.view.stations.filter(
    (one) => one.read === 'measure' && !one.is_reference && !(one.axes.along.fixed && one.axes.across.fixed),
  );

const stationsFor = (context: ActContext, axis: Axis): readonly Choice[] =>
  readStations(context).map((one) => ({
    value: one.id,
    label: one.knob[axis].division_mm === null && !one.axes[axis].fixed ? `${one.label} (not measured)` : one.label,
  }));

function openTurn(context: ActContext): Result<Form> {
  const read = readStations(context);
  const station = read.find((one) => one.id === context.selected.station) ?? read[0];
  if (station === undefined)
    return fail('A knob is measured on a station that is read; this job has none but the reference.');
  const axis = station.axes[context.selected.axis].fixed
    ? context.selected.axis === 'along'
      ? 'across'
      : 'along'
    : context.selected.axis;
  return ok({
    act: 'measure-knob',
    at: 3,
    message: null,
    carried: {},
    fields: [
      choiceField('station', 'station', stationsFor(context, axis), station.id),
      choiceField(
        'axis',
        'which way',
        [
          { value: 'along', label: 'along' },
          { value: 'across', label: 'across' },
        ],
        axis,
      ),
      choiceField('way', 'marked', MARKED[axis], station.knob[axis].last_way === -1 ? '-1' : '1'),
      numberField('divisions', station.knob[axis].word, String(DIVISIONS)),
      counterField(context),
    ],
  });
}

function turned(form: Form, context: ActContext): Result<Outcome> {
  const station = stationOf(form, context);
  const axis = axisOf(form);
  if (station === undefined) return fail('Choose the station whose knob is measured.');
  if (station.axes[axis].fixed) return fail(`${station.label} is fixed ${axis}: it has no knob there.`);
  if (station.knob[axis].before === null)
    return fail(`Read ${station.label} ${axis} first, off a sample printed after its last turn: Esc, p, c. Then d.`);
  return turnRecord(station, axis, wayOf(form), form, context);
}

const turnedMore = (trial: TrialView, form: Form, context: ActContext): Result<Outcome> => {
  const station = context.view.stations.find((one) => one.id === trial.station);
  return station === undefined
    ? fail(`Station ${trial.station} is not in the job any more.`)
    : turnRecord(station, trial.axis, trial.divisions < 0 ? -1 : 1, form, context);
};

function turnRecord(station: StationView, axis: Axis, way: 1 | -1, form: Form, context: ActContext): Result<Outcome> {
  const text = textOf(form, 'divisions').replace(',', '.');
  if (!/^\d{1,3}(\.5)?$/.test(text) || Number(text) === 0)
    return fail(`"${text}" is no number of ${station.knob[axis].word}: key how many it was turned, whole or half.`);
  const web_m = readCounter(form, context);
  if (!web_m.ok) return web_m;
  const divisions = Number(text) * way * station.knob[axis].sense;
  const known = [station, ...context.view.stations].find((one) => one.knob[axis].division_mm !== null);
  const division_mm = known?.knob[axis].division_mm ?? TAKEN_FOR_MM;
  const move_mm = Number((divisions * division_mm).toFixed(9));
  const record: RecordBody = {
    type: 'correction',
    station: station.id,
    axis,
    move_mm,
    teeth: 0,
    divisions,
    web_m: web_m.value,
    trial: true,
  };
  return ok({ records: [record], said: `Noted. Next: a sample printed wholly after it, read ${axis}; then d.` });
}

/** The knob is put on record, and its trial turns again as the moves they were. */
function measured(trial: TrialView, context: ActContext): Result<Outcome> {
  const { result, turns, station, axis } = trial;
  const after = trial.after.at(-1);
  const last = turns.at(-1);
  if (result?.kind !== 'measured' || after === undefined || last === undefined)
    return fail('The turn has not been read yet.');
  const division_mm = Number(result.division_mm.toPrecision(3));
  const { sense } = result;
  const records: readonly RecordBody[] = [
    {
      type: 'knob',
      station,
      axis,
      division_mm,
      sense,
      divisions: trial.divisions,
      before_check: trial.before.check,
      after_check: after.check,
      web_m: last.web_m,
    },
    ...turns.flatMap(({ entry, divisions, web_m }): readonly RecordBody[] => [
      { type: 'withdraw', check: null, entry, web_m: null },
      {
        type: 'correction',
        station,
        axis,
        move_mm: Number((divisions * sense * division_mm).toFixed(9)),
        teeth: 0,
        divisions: divisions * sense,
        web_m,
      },
    ]),
  ];
  const back = markOf(axis, trial.divisions < 0 ? 1 : -1);
  return ok({
    records,
    said: `Knob of ${labelOf(station, context)} measured. To bring it back: ${Math.abs(trial.divisions)} the way marked ${back}; k notes it.`,
  });
}

function whatItSays(trial: TrialView, form: Form, context: ActContext): string {
  const { result } = trial;
  const label = labelOf(trial.station, context);
  const { register } = context.view.units;
  if (result === null) return waitsFor(trial, context);
  if (result.kind === 'measured') {
    const size = (mm: number): string => rateWords(mm, register).split(' ')[0] ?? '';
    return `One division of ${label}'s knob moves the print ${rateWords(result.division_mm, register)} ${trial.axis} (${size(result.low_mm)} to ${size(result.high_mm)}): ${markWords(result.sense)}. Record it?`;
  }
  const { word } = context.view.stations.find((one) => one.id === trial.station)?.knob[trial.axis] ?? {
    word: 'divisions',
  };
  return `Not enough: ${result.why}. Turned ${label} ${textOf(form, 'divisions') || '...'} ${word} further the way marked ${markOf(trial.axis, trial.divisions < 0 ? -1 : 1)} at ${counterWords(form, context)}?`;
}

function waitsFor(trial: TrialView, context: ActContext): string {
  const from = atCounter(trial.tells_from_m, context.view);
  return `Knob of ${labelOf(trial.station, context)} ${trial.axis}: pull a sample from ${from} on (p), read it (c), then d. z takes the turn back.`;
}

const readingWords = (read: { readonly check: number | string; readonly mm: number }, context: ActContext): string =>
  `check ${read.check}, ${signedNumber(read.mm, context.view.units.register)} ${registerUnitName(context.view.units.register)}`;

const markOf = (axis: Axis, way: 1 | -1): string => MARKED[axis][way === 1 ? 0 : 1].label;
const wayOf = (form: Form): 1 | -1 => (textOf(form, 'way') === '-1' ? -1 : 1);
const labelOf = (id: string, context: ActContext): string =>
  context.view.stations.find((one) => one.id === id)?.label ?? id;
