import { describe, expect, it } from 'vitest';
import { choiceField, type Form, listField, numberField, stepForm, textField, textOf } from '../../src/ui/form.js';
import { strokesOf } from './desk.js';

const FORM: Form = {
  act: 'stop-start',
  at: 0,
  message: null,
  carried: {},
  fields: [
    choiceField(
      'what',
      'the press',
      [
        { value: 'stop', label: 'stopped' },
        { value: 'start', label: 'runs again' },
      ],
      'stop',
    ),
    numberField('counter', 'counter', '100'),
    textField('who', 'who'),
    { ...numberField('speed', 'speed'), hidden: true },
  ],
};

const after = (keys: string, form = FORM): Form => strokesOf(keys).reduce((now, key) => stepForm(now, key).form, form);

describe('a form', () => {
  it('the first character replaces what was prefilled; the next ones go on', () => {
    expect(textOf(after('[tab]250'), 'counter')).toBe('250');
    expect(textOf(after('[tab][backspace]7'), 'counter')).toBe('7');
    expect(textOf(after('[tab]25[backspace]0'), 'counter')).toBe('20');
  });

  it('arrows change a choice, letters pick one', () => {
    expect(textOf(after('[right]'), 'what')).toBe('start');
    expect(textOf(after('[left]'), 'what')).toBe('start');
    expect(textOf(after('r'), 'what')).toBe('start');
    expect(textOf(after('rs'), 'what')).toBe('stop');
  });

  it('a number keyed on a choice goes to no other field, and is never swallowed without a word', () => {
    const form = after('850');
    expect(textOf(form, 'counter')).toBe('100');
    expect(form.at).toBe(0);
    expect(form.message).toContain('Tab goes to the next field');
  });

  it('typing into a field that was come to again replaces it; one Backspace empties it', () => {
    expect(textOf(after('[tab]250[tab][back-tab]3'), 'counter')).toBe('3');
    expect(textOf(after('[tab]250[tab][back-tab][backspace]'), 'counter')).toBe('');
  });

  it('says what to do about a letter that is no choice', () => {
    expect(after('q').message).toContain('Left and right');
  });

  it('Tab, up and down walk the fields that are shown, round and round', () => {
    expect(
      ['[tab]', '[tab][tab]', '[tab][tab][tab]', '[up]', '[down]', '[back-tab]'].map((keys) => after(keys).at),
    ).toEqual([1, 2, 0, 2, 1, 2]);
  });

  it('Enter confirms from any field, Esc leaves', () => {
    for (const keys of ['', '[tab]', '[tab][tab]']) {
      expect(stepForm(after(keys), { name: 'enter' }).outcome).toBe('confirm');
      expect(stepForm(after(keys), { name: 'esc' }).outcome).toBe('leave');
    }
  });

  it('a list is walked with up and down', () => {
    const list: Form = {
      ...FORM,
      fields: [
        listField(
          'entry',
          'which',
          ['a', 'b', 'c'].map((one) => ({ value: one, label: one })),
          'a',
        ),
      ],
    };
    expect(['[down]', '[down][down]', '[up]'].map((keys) => textOf(after(keys, list), 'entry'))).toEqual([
      'b',
      'c',
      'c',
    ]);
  });

  it('what is hidden has no value', () => {
    expect(textOf({ ...FORM, fields: FORM.fields.map((one) => ({ ...one, text: '9' })) }, 'speed')).toBe('');
  });

  it('text is cut at a length a log line bears', () => {
    expect(textOf(after(`[tab][tab]${'x'.repeat(500)}`), 'who').length).toBe(120);
  });
});
