import type { Keystroke } from './keystroke.js';
import type { Screen } from './screen.js';

/** Pasted text as one line without control characters: a line end in it must not confirm anything. */
export const pastedText = (text: string): string => text.replace(CONTROLS, ' ').replace(/ {2,}/g, ' ').trim();

const CONTROLS = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g;

/** The characters that go into the field with the cursor; null = there is no field that takes text, and they would act as keys. */
export function strokesOfPaste(text: string, screen: Screen): readonly Keystroke[] | null {
  const { mode } = screen;
  const chars = [...text].map((char): Keystroke => ({ char }));
  if (mode.kind === 'form') {
    const field = mode.form.fields[mode.form.at];
    return field?.kind === 'text' || field?.kind === 'number' ? chars : null;
  }
  const draft = mode.kind === 'grid' ? screen.drafts[mode.check] : undefined;
  if (draft === undefined) return null;
  // In the grid letters are commands too; one reading is what a field of it takes.
  const inReading = draft.at !== 'save' && draft.at.cell !== 'plate' && /^[+-]?\d[\d.,/ ]{0,10}[a-z]?$/i.test(text);
  return draft.writing || inReading ? chars : null;
}

/** Says that it was dropped, where the operator is looking. */
export function refusePaste(screen: Screen, length: number): Screen {
  const text = `Pasted text (${length} characters) was dropped: here keys are commands. In a field it is taken.`;
  const { mode } = screen;
  if (mode.kind === 'form') return { ...screen, mode: { ...mode, form: { ...mode.form, message: text } } };
  const draft = mode.kind === 'grid' ? screen.drafts[mode.check] : undefined;
  if (mode.kind === 'grid' && draft !== undefined)
    return { ...screen, drafts: { ...screen.drafts, [mode.check]: { ...draft, message: text } } };
  return { ...screen, message: { text, tone: 'trouble' } };
}
