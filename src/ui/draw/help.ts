import type { BoardView } from '../../core/views/board-view.js';
import { BINDINGS, GRID_KEYS } from '../keymap.js';
import { glyphs, type Look } from '../theme.js';
import { wrapWords } from './row.js';

/** Help as lines: what to do first, keys from the keymap, signs and units, and what the words mean. */
export function helpLines(view: BoardView, look: Look, width: number): readonly string[] {
  const g = glyphs(look);
  const unit = view.units.register;
  const whole =
    unit === 'mm'
      ? 'hundredths of a mm: 5 is 0.05, 12 is 0.12'
      : unit === '64ths'
        ? '64ths of an inch: 3 is 3/64'
        : 'thousandths of an inch: 5 is 0.005 in';
  const says = (text: string): readonly string[] => wrapWords(text, width - 2).map((line) => `  ${line}`);
  const table = (
    rows: readonly { readonly shown: string; readonly words: string }[],
    size: number,
  ): readonly string[] =>
    rows.flatMap(({ shown, words }) =>
      wrapWords(words, width - size - 2).map((line, i) => `  ${(i === 0 ? shown : '').padEnd(size)}${line}`),
    );
  return [
    'A CHECK, FROM THE WEB TO THE LOG',
    ...says(
      'Pull a sample and press p at that moment. Mark its number on it, an arrow the way the web runs, the operator side, print up. Read it, press c and key what you read. If all is well: c, w, Enter. The middle of the board says what to turn, or to leave it alone. After turning a knob: k, Enter.',
    ),
    '',
    'KEYS ON THE BOARD (acts are confirmed with Enter; p and s are done at once)',
    ...table(BINDINGS, 14),
    '',
    'KEYS WHILE A CHECK IS KEYED',
    ...table(GRID_KEYS, 24),
    '',
    'SIGNS AND UNITS',
    ...says(`Whole digits count ${whole}. With a point or comma the number is taken as written; 3/64 is of an inch.`),
    ...says('+ along: the print is AHEAD of where it should lie, and must be retarded. - along: BEHIND, advance it.'),
    ...says(
      '+ across: the print lies toward the OPERATOR SIDE. - across: toward the GEAR SIDE. For the die read "its cut".',
    ),
    ...says('Counters are keyed as the press shows them.'),
    '',
    'WHAT THE MARKS AND WORDS MEAN',
    ...says(
      `${g.reference} reference   ${g.print} print station   ${g.trapFirst} ${g.trapSecond} two that trap one another   ${g.die} die   ${g.looked} not measured`,
    ),
    ...says(
      `${g.next} where it is expected at the next check, ${g.interval} how far that may be off (4 times in 5)   ${g.shape} the movement as it lies along the press`,
    ),
    ...says('[+0.09] in brackets: this one has moved, is drifting, or is out.'),
    ...says(
      'holding: steady in register. moved: a step, inside tolerance. drifting: still going, inside tolerance. OUT: outside tolerance.',
    ),
    ...says(
      'too few: not enough readings to say. not read: never measured on this run. looked: seen and in tolerance, without a number.',
    ),
    ...says(
      'note: really moving, nothing to do yet. act: turn now. out: outside tolerance. sure, likely, not sure: how far to trust the naming; i shows the figure.',
    ),
    ...says(
      'One mark off its line: that station moved. All but the reference off alike: the reference moved. A slope that grows with distance: the web.',
    ),
    '',
    'BELL',
    ...says('It rings for act and out only, at most once a minute; for out again until seen (s). m turns it off.'),
    '',
    'Hands out of the running press. Knobs only as the press manual and your site allow; gears and plates at a stop, made safe.',
  ];
}
