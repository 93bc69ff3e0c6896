import type { Keystroke } from './keystroke.js';

export type ActName =
  | 'knob'
  | 'measure-knob'
  | 'roll-off'
  | 'new-stock'
  | 'stop-start'
  | 'ok-to-run'
  | 'wash'
  | 'counter'
  | 'changed'
  | 'web-set'
  | 'note'
  | 'shift'
  | 'take-back'
  | 'end'
  | 'pull'
  | 'quit';

/** One thing that can be changed before Enter. */
export type Field = {
  readonly name: string;
  readonly label: string;
  /** choice: left and right change it; list: one below the other, up and down change it; text and number are typed. */
  readonly kind: 'text' | 'number' | 'choice' | 'list';
  readonly text: string;
  readonly choices?: readonly Choice[];
  /** Prefilled and not touched yet: the first character typed replaces it. */
  readonly fresh: boolean;
  /** What the prefilled text stands for to the last digit, while it is untouched. */
  readonly exact?: number;
  /** So many characters at most; 120 unless said. */
  readonly most?: number;
  /** Not asked for with these other answers; it stays as it is. */
  readonly hidden?: boolean;
};

export type Choice = { readonly value: string; readonly label: string };

/** An act before it is confirmed: its fields, which of them has the cursor, and what is wrong with it. */
export type Form = {
  readonly act: ActName;
  readonly fields: readonly Field[];
  readonly at: number;
  readonly message: string | null;
  /** What the act carries along that is not asked. */
  readonly carried: Readonly<Record<string, string>>;
};

export type FormStep = { readonly form: Form; readonly outcome: 'stay' | 'confirm' | 'leave' };

export const textField = (name: string, label: string, text = ''): Field => ({
  name,
  label,
  kind: 'text',
  text,
  fresh: text !== '',
});
export const numberField = (name: string, label: string, text = ''): Field => ({
  name,
  label,
  kind: 'number',
  text,
  fresh: text !== '',
});
export const choiceField = (name: string, label: string, choices: readonly Choice[], text: string): Field => ({
  name,
  label,
  kind: 'choice',
  text,
  choices,
  fresh: true,
});
export const listField = (name: string, label: string, choices: readonly Choice[], text: string): Field => ({
  name,
  label,
  kind: 'list',
  text,
  choices,
  fresh: true,
});

export const textOf = (form: Form, name: string): string =>
  form.fields.find((one) => one.name === name && one.hidden !== true)?.text.trim() ?? '';

export const choiceLabel = (form: Form, name: string): string => {
  const field = form.fields.find((one) => one.name === name);
  return field?.choices?.find((one) => one.value === field.text)?.label ?? field?.text ?? '';
};

/** One key in a form. Enter confirms from any field; Esc leaves; Tab, up and down move; nothing is saved here. */
export function stepForm(form: Form, key: Keystroke): FormStep {
  const field = form.fields[form.at];
  const stay = (next: Form): FormStep => ({ form: next, outcome: 'stay' });
  if ('name' in key) {
    if (key.name === 'enter') return { form: { ...form, message: null }, outcome: 'confirm' };
    if (key.name === 'esc' || key.name === 'ctrl-c') return { form, outcome: 'leave' };
    if (field?.kind === 'list' && (key.name === 'up' || key.name === 'down'))
      return stay(turn(form, key.name === 'down' ? 1 : -1));
    if (key.name === 'tab' || key.name === 'down') return stay(moveTo(form, 1));
    if (key.name === 'back-tab' || key.name === 'up') return stay(moveTo(form, -1));
    if (key.name === 'left' || key.name === 'right') return stay(turn(form, key.name === 'right' ? 1 : -1));
    if (key.name === 'backspace')
      return stay(
        field === undefined || field.choices !== undefined
          ? form
          : write(form, field.fresh ? '' : [...field.text].slice(0, -1).join('')),
      );
    return stay(form);
  }
  if (field === undefined) return stay(form);
  if (field.choices !== undefined) {
    if (key.char === ' ') return stay(turn(form, 1));
    const chosen = jump(form, key.char);
    if (chosen !== null) return stay(chosen);
    // What is typed goes to the field that is marked, to no other; a key that means nothing in it is said to.
    return stay({ ...form, message: 'Left and right change this; Tab goes to the next field.' });
  }
  return stay(write(form, (field.fresh ? '' : field.text) + key.char));
}

const put = (form: Form, change: Partial<Field>): Form => ({
  ...form,
  message: null,
  fields: form.fields.map((one, i) => (i === form.at ? { ...one, ...change } : one)),
});

/**
 * What is typed stands for itself: neither what was offered there nor its exact value is left. A full field refuses and says so: what is
 * silently cut would be believed to be noted.
 */
function write(form: Form, text: string): Form {
  const most = form.fields[form.at]?.most ?? MOST;
  if (text.length > most) return { ...form, message: fullWords(most) };
  const written = put(form, { text, fresh: false });
  return {
    ...written,
    fields: written.fields.map((one, i) => {
      if (i !== form.at) return one;
      const { exact: _, ...typed } = one;
      return typed;
    }),
  };
}

const MOST = 120;
/** Of a note, whether of its own or beside a check. */
export const NOTE_MOST = 480;

export const fullWords = (most: number): string =>
  `This field holds ${most} characters and is full: the last one keyed was not taken.`;

/** In a field that was come to, typing replaces what stands there, and one Backspace empties it: everywhere the same. */
const come = (form: Form): Form => ({
  ...form,
  fields: form.fields.map((one, i) => (i === form.at && one.choices === undefined ? { ...one, fresh: true } : one)),
});

function moveTo(form: Form, step: 1 | -1): Form {
  for (let i = 1; i <= form.fields.length; i += 1) {
    const at = (form.at + step * i + form.fields.length * i) % form.fields.length;
    if (form.fields[at]?.hidden !== true) return come({ ...form, at });
  }
  return form;
}

function turn(form: Form, step: 1 | -1): Form {
  const field = form.fields[form.at];
  const choices = field?.choices;
  if (field === undefined || choices === undefined || choices.length === 0) return form;
  const here = choices.findIndex((one) => one.value === field.text);
  const next = choices[(here + step + choices.length) % choices.length];
  return next === undefined ? form : put(form, { text: next.value, fresh: false });
}

/** A letter or digit picks the next choice whose words begin with it. */
function jump(form: Form, char: string): Form | null {
  const field = form.fields[form.at];
  const choices = field?.choices ?? [];
  const here = choices.findIndex((one) => one.value === field?.text);
  for (let i = 1; i <= choices.length; i += 1) {
    const one = choices[(here + i) % choices.length];
    if (one?.label.toLowerCase().startsWith(char.toLowerCase()) === true)
      return put(form, { text: one.value, fresh: false });
  }
  return null;
}
