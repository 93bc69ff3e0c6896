import { list, type Section, say } from '../document.js';
import type { Telling } from '../telling.js';

/** Section 8: what people noted, and the cautions that always stand. */
export function safety({ view, clock }: Telling): Section {
  const notes = view.notes.map((note) => `${clock.time(note.at)} ${note.by}: ${note.words}`);
  return {
    id: 'safety',
    title: '8 Safety, maintenance and notes',
    blocks: [
      notes.length === 0
        ? say(
            'Nothing was noted about safety, maintenance or anything else. That nothing is written does not say that nothing is there: ask.',
          )
        : list(notes),
      say(CAUTION),
    ],
  };
}

const CAUTION =
  'Site procedures and the press manual come first. Teeth, plates and anything behind a guard: press stopped and made safe, guards as the manual says, inch as the manual says. Never reach for a plate, gear or nip on a moving press.';
