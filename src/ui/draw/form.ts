import type { ActContext } from '../acts/act.js';
import { ACTS } from '../acts/index.js';
import type { Field, Form } from '../form.js';
import { glyphs, type Look } from '../theme.js';
import { endOf } from './end-of.js';
import { type Row, type Run, row, run, widthOf, wrapWords } from './row.js';

export type FormBox = { readonly width: number; readonly rows: number };

/** An act before it is confirmed: the sentence, what can be changed in it, and what is wrong with it. */
export function drawForm(form: Form, context: ActContext, box: FormBox, look: Look): readonly Row[] {
  const act = ACTS[form.act];
  const sentence = wrapWords(act.sentence(form, context), box.width - 4).map(
    (line, i): Row => [run(i === 0 ? ` ${glyphs(look).advice} ` : '   '), run(line, 'strong')],
  );
  const change = form.fields.length === 0 ? 'Enter yes, or Esc.' : 'Enter yes, change it, or Esc.';
  const caution = act.caution?.(form, context) ?? '';
  const foot: Row[] = [];
  if (form.message !== null)
    foot.push(...wrapWords(form.message, box.width - 3).map((line): Row => [run(' '), run(line, 'act')]));
  // Safety words are never cut.
  if (caution !== '') foot.push(...wrapWords(caution, box.width - 4).map((line) => row(`   ${line}`)));
  const next = form.fields.length > 1 ? '  Tab next field, left and right choose' : '';
  foot.push([run(`   ${change}`), run(3 + change.length + next.length <= box.width ? next : '')]);
  const room = Math.max(1, box.rows - sentence.length - foot.length);
  return [...sentence, ...fieldRows(form, box.width, look, room), ...foot];
}

/** Fields flow into lines; a list stands one below the other and scrolls to its choice. */
function fieldRows(form: Form, width: number, look: Look, room: number): readonly Row[] {
  const list = form.fields.find((one) => one.kind === 'list');
  if (list !== undefined) return listRows(list, room, look);
  const lines: Run[][] = [[run('   ')]];
  let focusedLine = 0;
  form.fields.forEach((field, i) => {
    if (field.hidden === true) return;
    const focused = form.at === i;
    const room = Math.max(8, width - field.label.length - 8);
    const text = field.choices === undefined && focused ? endOf(fieldText(field), room) : fieldText(field);
    const shown = ` ${text}${focused && field.choices === undefined ? glyphs(look).cursor : ''} `;
    const label = wrapWords(field.label, Math.max(10, width - 6 - shown.length))[0] ?? '';
    const piece: Run[] = [run(`${label} `), run(shown, focused ? 'field' : 'strong'), run('   ')];
    const last = lines[lines.length - 1] ?? [];
    if (widthOf(last) > 3 && widthOf(last) + widthOf(piece) - 3 > width) lines.push([run('   '), ...piece]);
    else last.push(...piece);
    if (focused) focusedLine = lines.length - 1;
  });
  if (form.fields.every((one) => one.hidden === true)) return [];
  // The line with the cursor is always in sight.
  const first = Math.max(0, Math.min(focusedLine - Math.floor(room / 2), lines.length - room));
  return lines.slice(first, first + room);
}

const fieldText = (field: Field): string =>
  field.choices === undefined
    ? field.text || '_'
    : (field.choices.find((one) => one.value === field.text)?.label ?? field.text);

function listRows(field: Field, room: number, look: Look): readonly Row[] {
  const choices = field.choices ?? [];
  const at = Math.max(
    0,
    choices.findIndex((one) => one.value === field.text),
  );
  const first = Math.max(0, Math.min(at - Math.floor(room / 2), choices.length - room));
  return choices
    .slice(first, first + room)
    .map(
      (one, i): Row =>
        first + i === at ? [run(`  ${glyphs(look).advice} `), run(one.label, 'field')] : [run(`    ${one.label}`)],
    );
}
