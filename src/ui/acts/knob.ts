import type { Axis } from '../../core/axis.js';
import type { Move } from '../../core/finding.js';
import type { Correction } from '../../core/record.js';
import { fail, ok, type Result } from '../../core/result.js';
import { registerFromMm, registerToMm } from '../../core/units.js';
import { atCounter } from '../../core/views/at-counter.js';
import { sizeWords } from '../../core/views/number-words.js';
import { choiceField, type Form, numberField, textOf } from '../form.js';
import type { Act, ActContext } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';
import { axisOf, stationOf } from './knob-fields.js';

/** A register knob (or gear) was moved: offered as advised, every part can be changed. */
export const knob: Act = {
  name: 'knob',
  title: 'knob moved',
  open: (context) => ok(openKnob(context, context.view.instruction.moves, 0)),
  revise: (form, context) => {
    const station = stationOf(form, context);
    const axis = axisOf(form);
    const along = axis === 'along';
    const bare = station?.knob[axis].division_mm === null;
    const fields = form.fields.map((one) => {
      if (one.name === 'turn') {
        const choices = along ? ALONG : ACROSS;
        return {
          ...one,
          choices,
          text: choices.some((c) => c.value === one.text) ? one.text : one.text === '-1' ? '-1' : '1',
        };
      }
      if (one.name === 'teeth') return { ...one, hidden: !along };
      if (one.name === 'divisions') return { ...one, hidden: bare, label: station?.knob[axis].word ?? 'divisions' };
      return one;
    });
    return { ...form, fields };
  },
  sentence: (form, context) => {
    const station = stationOf(form, context);
    const verb = VERBS[axisOf(form)][textOf(form, 'turn') === '1' ? 'plus' : 'minus'];
    const left = Number(form.carried.left ?? '0');
    return `You ${verb(station?.label ?? '?')} ${sizeOf(form, context)} at ${counterWords(form, context)}?${left > 0 ? ` (${left} more advised after it)` : ''}`;
  },
  caution: (form) =>
    textOf(form, 'teeth') !== '' && textOf(form, 'teeth') !== '0'
      ? 'Gear moves: press stopped and made safe, guards and inching by the press manual.'
      : '',
  outcome: (form, context) => {
    const record = toRecord(form, context);
    if (!record.ok) return record;
    const left = Number(form.carried.left ?? '0');
    return ok({
      records: [record.value],
      said: `Noted.${tellsWords(record.value, context)}`,
      ...(left > 0 ? { next: 'next-move' as const } : {}),
    });
  },
};

/** The next advised move after one was recorded, as it was advised then. */
export function nextMove(form: Form, context: ActContext): Form {
  const moves: readonly Move[] = JSON.parse(form.carried.moves ?? '[]');
  return openKnob(context, moves, Number(form.carried.index ?? '0') + 1);
}

/** The form for one advised move of several, or for the selected station when nothing is advised. */
export function openKnob(context: ActContext, moves: readonly Move[], index: number): Form {
  const advised = moves[index];
  const along = (advised?.axis ?? context.selected.axis) === 'along';
  const plus =
    advised === undefined ? bringsBack(context) : advised.turn === 'advance' || advised.turn === 'to operator side';
  const stations = context.view.stations
    .filter((one) => one.read !== 'never' || one.kind === 'print')
    .map((one) => ({ value: one.id, label: one.label }));
  const form: Form = {
    act: 'knob',
    at: advised === undefined ? 3 : 4,
    message: null,
    carried: {
      left: String(Math.max(0, moves.length - 1 - index)),
      index: String(index),
      moves: JSON.stringify(moves),
    },
    fields: [
      choiceField('station', 'station', stations, advised?.station ?? context.selected.station),
      choiceField(
        'axis',
        'which way',
        [
          { value: 'along', label: 'along' },
          { value: 'across', label: 'across' },
        ],
        along ? 'along' : 'across',
      ),
      choiceField('turn', 'print went', along ? ALONG : ACROSS, plus ? '1' : '-1'),
      numberField('teeth', 'teeth', advised === undefined || advised.teeth === 0 ? '' : String(advised.teeth)),
      numberField(
        'divisions',
        'divisions',
        advised?.divisions === null || advised === undefined || advised.divisions === 0
          ? ''
          : String(advised.divisions),
      ),
      numberField(
        'size',
        `or size, ${context.view.units.register === '64ths' ? '64ths' : context.view.units.register}`,
        advised !== undefined && advised.divisions === null
          ? String(Number(Math.abs(registerFromMm(advised.move_mm, context.view.units.register)).toFixed(3)))
          : '',
      ),
      counterField(context),
    ],
  };
  const revised = knob.revise?.(form, context) ?? form;
  return advised === undefined
    ? {
        ...revised,
        at: revised.fields.findIndex(
          (one) =>
            one.name ===
            (stationOf(revised, context)?.knob[axisOf(revised)].division_mm === null ? 'size' : 'divisions'),
        ),
      }
    : revised;
}

const ALONG = [
  { value: '-1', label: 'back: RETARDED' },
  { value: '1', label: 'forward: ADVANCED' },
];
const ACROSS = [
  { value: '1', label: 'to the operator side' },
  { value: '-1', label: 'to the gear side' },
];

type Verb = (station: string) => string;

const VERBS: Readonly<Record<Axis, { readonly plus: Verb; readonly minus: Verb }>> = {
  along: { plus: (station) => `ADVANCED ${station}`, minus: (station) => `RETARDED ${station}` },
  across: {
    plus: (station) => `moved ${station} to the OPERATOR SIDE`,
    minus: (station) => `moved ${station} to the GEAR SIDE`,
  },
};

/** Without advice: the way that brings the selected station back from its last reading. */
const bringsBack = (context: ActContext): boolean =>
  (context.view.stations.find((one) => one.id === context.selected.station)?.axes[context.selected.axis].last_mm ??
    0) <= 0;

/** From which counter on a sample shows the move; known where the move was advised, counted from where it was made. */
function tellsWords(record: Correction, context: ActContext): string {
  const { tells_from_m, moves } = context.view.instruction;
  const { web_m } = context.view.position;
  const advised = moves.some((one) => one.station === record.station && one.axis === record.axis);
  if (tells_from_m === null || web_m === null || !advised)
    return ' A sample tells once the web has run from that station to the rewind.';
  return ` A sample tells from ${atCounter(record.web_m + (tells_from_m - web_m), context.view)} on; before that it shows the old setting.`;
}

function sizeOf(form: Form, context: ActContext): string {
  const word = stationOf(form, context)?.knob[axisOf(form)].word ?? 'divisions';
  const parts = [
    [textOf(form, 'teeth'), 'teeth', 'tooth'],
    [textOf(form, 'divisions'), word, word.replace(/s$/, '')],
  ].flatMap(([text = '', many = '', one = '']) =>
    text === '' || Number(text) === 0
      ? []
      : [`${text.replace(/^-/, 'back ')} ${Math.abs(Number(text)) === 1 ? one : many}`],
  );
  const size = textOf(form, 'size');
  if (size !== '') return `${size} ${context.view.units.register}`;
  const record = toRecord(form, context);
  const total = record.ok ? ` (${sizeWords(record.value.move_mm, context.view.units.register)})` : '';
  return parts.length === 0 ? `... ${word}` : `${parts.join(' and ')}${total}`;
}

function toRecord(form: Form, context: ActContext): Result<Correction> {
  const station = stationOf(form, context);
  const axis = axisOf(form);
  if (station === undefined) return fail('Choose the station that was moved.');
  if (station.axes[axis].fixed) return fail(`${station.label} is fixed ${axis}: there the print is brought to it.`);
  const web_m = readCounter(form, context);
  if (!web_m.ok) return web_m;
  const sign = textOf(form, 'turn') === '1' ? 1 : -1;
  const head = { type: 'correction' as const, station: station.id, axis, web_m: web_m.value };
  const size = textOf(form, 'size').replace(',', '.');
  if (size !== '') {
    if (!/^\d+(\.\d+)?$/.test(size) || Number(size) === 0)
      return fail(`"${size}" is not a size: key how much in ${context.view.units.register}, or divisions.`);
    return ok({
      ...head,
      move_mm: sign * registerToMm(Number(size), context.view.units.register),
      teeth: null,
      divisions: null,
    });
  }
  const teeth = whole(textOf(form, 'teeth'));
  const divisions = whole(textOf(form, 'divisions'));
  if (teeth === null || divisions === null)
    return fail('Teeth and divisions are whole or half numbers; - is back the other way.');
  if (teeth === 0 && divisions === 0) return fail('How much was it turned? Key the divisions, the teeth, or the size.');
  const division_mm = station.knob[axis].division_mm;
  if (divisions !== 0 && division_mm === null)
    return fail('The size of a division is not measured on this press: key the size instead.');
  const move_mm = sign * (teeth * context.view.tooth_mm + divisions * (division_mm ?? 0));
  return ok({
    ...head,
    move_mm: Number(move_mm.toFixed(9)),
    teeth: sign * teeth || 0,
    divisions: sign * divisions || 0,
  });
}

function whole(text: string): number | null {
  if (text === '') return 0;
  return /^-?\d{1,4}([.,]5)?$/.test(text) ? Number(text.replace(',', '.')) : null;
}
