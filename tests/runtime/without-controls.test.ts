import { describe, expect, it } from 'vitest';
import { withoutControls } from '../../src/runtime/without-controls.js';

describe('texts on their way into the log', () => {
  it('lose direction marks and zero-width characters, so that none comes raw out of the shell or a CSV', () => {
    const note = { type: 'note', text: 'roll \u202e21\u202c off\u200b, \u2066x\u2069\ufeff' };
    expect(withoutControls(note)).toEqual({ type: 'note', text: 'roll 21 off, x' });
  });

  it('keep what letters of a script are joined by, and are the same object when nothing was wrong', () => {
    const note = { text: 'می\u200cخواهم 数字 é e\u0301' };
    expect(withoutControls(note)).toBe(note);
  });
});
