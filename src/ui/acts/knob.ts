import type { Axis } from '../../core/axis.js';
import type { Move } from '../../core/finding.js';
import { parseMargin } from '../../core/reading.js';
import type { Correction } from '../../core/record.js';
import { fail, ok, type Result } from '../../core/result.js';
import { registerFromMm } from '../../core/units.js';
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
  revise: (form, context) => visible(bySide(forStation(form, context), context), context),
  sentence: (form, context) => {
    const station = stationOf(form, context);
    const verb = VERBS[axisOf(form)][textOf(form, 'turn') === '1' ? 'plus' : 'minus'];
    const left = Number(form.carried.left ?? '0');
    return `You ${verb(station?.label ?? '?')} ${sizeOf(form, context)} at ${counterWords(form, context)}?${left > 0 ? ` (${left} more advised after it)` : ''}`;
  },
  caution: (form) =>
    textOf(form, 'teeth') !== '' && textOf(form, 'teeth') !== '0'
      ? 'Gear moves: press stopped and made safe, guards and inching by the press manual.'
      : 'Turn the knob only. Hands out of the press, guards closed. Press manual and site rules first.',
  outcome: (form, context) => {
    const record = toRecord(form, context);
    if (!record.ok) return record;
    const asked = moreThanATooth(record.value, form, context);
    if (asked !== null && form.carried.asked !== asked) return fail(asked);
    const left = Number(form.carried.left ?? '0');
    return ok({
      records: [record.value],
      said: `Noted.${tellsWords(record.value, context)}`,
      ...(left > 0 ? { next: 'next-move' as const } : {}),
    });
  },
};

/** A knob that moves the print further than a tooth is rather a slip of the decimal point; as advised it is not asked about. */
const moreThanATooth = (record: Correction, form: Form, context: ActContext): string | null => {
  const { tooth_mm, units } = context.view;
  const asAdvised = advisedFor(form, record.station, record.axis)?.move_mm === record.move_mm;
  if (asAdvised || record.teeth !== null || Math.abs(record.move_mm) <= tooth_mm) return null;
  return `${sizeWords(record.move_mm, units.register)} is more than a tooth (${sizeWords(tooth_mm, units.register)}). Enter again if it was so, or key it anew.`;
};

const movesOf = (form: Form): readonly Move[] => JSON.parse(form.carried.moves ?? '[]');

const advisedFor = (form: Form, station: string, axis: Axis): Move | undefined =>
  movesOf(form).find((one) => one.station === station && one.axis === axis);

const AMOUNTS: readonly string[] = ['teeth', 'divisions', 'size'];

/** Another station or axis was chosen: what was offered for the one before is not offered for this one. */
function forStation(form: Form, context: ActContext): Form {
  const station = textOf(form, 'station');
  const axis = axisOf(form);
  const here = `${station}/${axis}`;
  if (form.carried.for === here) return form;
  const offered = offer(context, advisedFor(form, station, axis), station, axis);
  const fields = form.fields.map((one) => {
    if (AMOUNTS.includes(one.name) && (one.fresh || one.text === ''))
      return { ...one, text: offered[one.name] ?? '', fresh: true };
    // Which way was said outright is not guessed again.
    if (one.name === 'turn')
      return { ...one, choices: axis === 'along' ? ALONG : ACROSS, text: one.fresh ? (offered.turn ?? '1') : one.text };
    return one;
  });
  return { ...form, carried: { ...form.carried, for: here }, fields };
}

/** A letter beside the amount says which way it went: R retarded, A advanced, O to the operator side, G to the gear side. */
const SIDES: Readonly<Record<string, { readonly axis: Axis; readonly turn: string }>> = {
  r: { axis: 'along', turn: '-1' },
  a: { axis: 'along', turn: '1' },
  o: { axis: 'across', turn: '1' },
  g: { axis: 'across', turn: '-1' },
};

function bySide(form: Form, context: ActContext): Form {
  const at = form.fields[form.at];
  if (at === undefined || !AMOUNTS.includes(at.name)) return form;
  const side = SIDES[/[raog]/i.exec(at.text)?.[0].toLowerCase() ?? ''];
  if (side === undefined) return keyedAlone(form, at.name);
  const text = at.text.replace(/[raog]/gi, '');
  const put = (name: string, to: string): void => {
    fields = fields.map((one) => (one.name === name ? { ...one, text: to, fresh: false } : one));
  };
  let fields = form.fields.map((one) => (one.name === at.name ? { ...one, text } : one));
  put('axis', side.axis);
  const turned = forStation({ ...form, fields }, context);
  fields = [...turned.fields];
  put('turn', side.turn);
  return keyedAlone({ ...turned, fields }, at.name);
}

/** An amount that was keyed stands alone: what was offered in another measure would say something else than it. */
const keyedAlone = (form: Form, name: string): Form => {
  const keyed = form.fields.find((one) => one.name === name);
  if (keyed === undefined || keyed.fresh || keyed.text === '') return form;
  const others = name === 'size' ? ['teeth', 'divisions'] : ['size'];
  return {
    ...form,
    fields: form.fields.map((one) => (others.includes(one.name) && one.fresh ? { ...one, text: '' } : one)),
  };
};

/** Only what this knob has is asked, and the cursor never stands on what is not. */
function visible(form: Form, context: ActContext): Form {
  const station = stationOf(form, context);
  const axis = axisOf(form);
  const along = axis === 'along';
  const bare = station?.knob[axis].division_mm === null;
  const fields = form.fields.map((one) => {
    if (one.name === 'teeth') return { ...one, hidden: !along, text: along ? one.text : '' };
    if (one.name === 'divisions')
      return { ...one, hidden: bare, text: bare ? '' : one.text, label: station?.knob[axis].word ?? 'divisions' };
    return one;
  });
  const at =
    fields[form.at]?.hidden === true ? fields.findIndex((one) => one.name === (bare ? 'size' : 'divisions')) : form.at;
  return { ...form, at, fields };
}

/** What is offered for a knob: as advised, or the way that brings it back and no amount. */
function offer(
  context: ActContext,
  advised: Move | undefined,
  station: string,
  axis: Axis,
): Readonly<Record<string, string>> {
  if (advised === undefined) return { turn: bringsBack(context, station, axis) ? '1' : '-1' };
  const count = (n: number | null): string => (n === null || n === 0 ? '' : String(n));
  const size = Math.abs(registerFromMm(advised.move_mm, context.view.units.register)).toFixed(3);
  return {
    turn: advised.turn === 'advance' || advised.turn === 'to operator side' ? '1' : '-1',
    teeth: count(advised.teeth),
    divisions: count(advised.divisions),
    size: advised.divisions === null ? sizeText(Number(size)) : '',
  };
}

/** Always with a point: whole digits would be hundredths, as in the grid. */
const sizeText = (size: number): string => (Number.isInteger(size) ? `${size}.0` : String(size));

/** The next advised move after one was recorded, as it was advised then. */
export function nextMove(form: Form, context: ActContext): Form {
  const moves: readonly Move[] = JSON.parse(form.carried.moves ?? '[]');
  return openKnob(context, moves, Number(form.carried.index ?? '0') + 1);
}

/** The form for one advised move of several, or for the selected station when nothing is advised. */
export function openKnob(context: ActContext, moves: readonly Move[], index: number): Form {
  const advised = moves[index];
  const station = advised?.station ?? context.selected.station;
  const axis = advised?.axis ?? context.selected.axis;
  const offered = offer(context, advised, station, axis);
  const stations = context.view.stations
    .filter((one) => one.read !== 'never' || one.kind === 'print')
    .map((one) => ({ value: one.id, label: one.label }));
  const { register } = context.view.units;
  // The amount first, then the station: what is most often another than offered is nearest.
  const form: Form = {
    act: 'knob',
    at: 0,
    message: null,
    carried: {
      left: String(Math.max(0, moves.length - 1 - index)),
      index: String(index),
      moves: JSON.stringify(moves),
      for: `${station}/${axis}`,
    },
    fields: [
      numberField('divisions', 'divisions', offered.divisions ?? ''),
      choiceField('station', 'station', stations, station),
      choiceField('turn', 'print went', axis === 'along' ? ALONG : ACROSS, offered.turn ?? '1'),
      choiceField('axis', 'which way', AXIS_CHOICES, axis),
      numberField('teeth', 'teeth', offered.teeth ?? ''),
      numberField('size', `or size, ${register === '64ths' ? '64ths' : register}`, offered.size ?? ''),
      counterField(context),
    ],
  };
  return visible(form, context);
}

const AXIS_CHOICES = [
  { value: 'along', label: 'along' },
  { value: 'across', label: 'across' },
];
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

/** Without advice: the way that brings the station back from its last reading. */
const bringsBack = (context: ActContext, station: string, axis: Axis): boolean =>
  (context.view.stations.find((one) => one.id === station)?.axes[axis].last_mm ?? 0) <= 0;

/** From which counter on a sample shows the move; known where the move was advised, counted from where it was made. */
function tellsWords(record: Correction, context: ActContext): string {
  const { tells_from_m, moves } = context.view.instruction;
  const { web_m } = context.view.position;
  const advised = moves.some((one) => one.station === record.station && one.axis === record.axis);
  if (tells_from_m === null || web_m === null || !advised)
    return ' A sample tells once the web has run from that station to the rewind.';
  return ` A sample tells from ${atCounter(record.web_m + (tells_from_m - web_m), context.view)} on; before that it shows the old setting.`;
}

/** How much, as it will be stored: never what only stands in a field beside. */
function sizeOf(form: Form, context: ActContext): string {
  const word = stationOf(form, context)?.knob[axisOf(form)].word ?? 'divisions';
  const record = toRecord(form, context);
  const total = record.ok ? sizeWords(record.value.move_mm, context.view.units.register) : '';
  const parts = [
    [textOf(form, 'teeth'), 'teeth', 'tooth'],
    [textOf(form, 'divisions'), word, word.replace(/s$/, '')],
  ].flatMap(([text = '', many = '', one = '']) =>
    text === '' || Number(text) === 0
      ? []
      : [`${text.replace(/^-/, 'back ')} ${Math.abs(Number(text)) === 1 ? one : many}`],
  );
  if (textOf(form, 'size') !== '') return parts.length === 0 ? total : `${parts.join(' and ')}, ${total} in all`;
  return parts.length === 0 ? `... ${word}` : `${parts.join(' and ')}${total === '' ? '' : ` (${total})`}`;
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
  const teeth = whole(textOf(form, 'teeth'));
  const divisions = whole(textOf(form, 'divisions'));
  if (teeth === null || divisions === null)
    return fail('Teeth and divisions are whole or half numbers; - is back the other way.');
  // A length is keyed here as everywhere: 10 is 0.10 mm in a job in mm, 0.10 is itself.
  const size = parseMargin(textOf(form, 'size'), context.view.units.register);
  if (!size.ok) return size;
  if (size.value.mm !== null) {
    if (divisions !== 0) return fail('Key the divisions or the size, not both.');
    if (size.value.mm === 0) return fail('How much was it turned? A size of 0 is no move.');
    return ok({
      ...head,
      move_mm: sign * size.value.mm,
      teeth: teeth === 0 ? null : sign * teeth,
      divisions: null,
    });
  }
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
