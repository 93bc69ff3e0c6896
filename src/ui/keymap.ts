import type { Phase } from '../core/views/board-view.js';
import type { ActName } from './acts/act.js';
import type { Keystroke } from './keystroke.js';

/** What a key on the board asks for. */
export type Intent =
  | { readonly kind: 'pull' }
  | { readonly kind: 'check' }
  | { readonly kind: 'seen' }
  | { readonly kind: 'act'; readonly act: ActName }
  | { readonly kind: 'station'; readonly step: -1 | 1 }
  | { readonly kind: 'station-number'; readonly index: number }
  | { readonly kind: 'axis' }
  | { readonly kind: 'chart'; readonly how: 'zoom-in' | 'zoom-out' | 'earlier' | 'later' | 'whole' | 'by-roll' }
  | { readonly kind: 'page'; readonly page: 'help' | 'handover' | 'events' }
  | { readonly kind: 'far' }
  | { readonly kind: 'mute' }
  | { readonly kind: 'quit' };

export type Binding = {
  /** Characters or key names that ask for it. */
  readonly keys: readonly string[];
  readonly intent: Intent | ((key: string) => Intent);
  /** As help and README name the keys. */
  readonly shown: string;
  /** In the key line; short. */
  readonly short: string;
  /** In help and README. */
  readonly words: string;
  /** Puts something on record: not offered once the run has ended. */
  readonly acts?: boolean;
  /** Order of need in the key line; left out of it when absent. */
  readonly line?: number;
};

const act = (name: ActName): Intent => ({ kind: 'act', act: name });

/** The one list of keys: the board, its help and the README's table all come from it. */
export const BINDINGS: readonly Binding[] = [
  {
    keys: ['p'],
    intent: { kind: 'pull' },
    shown: 'p',
    short: 'sample',
    acts: true,
    words: 'Sample pulled: stamps counter, time and roll at once; the readings can be keyed later',
    line: 1,
  },
  {
    keys: ['c'],
    intent: { kind: 'check' },
    shown: 'c',
    short: 'check',
    acts: true,
    words: 'Key a check: the sample pulled, or one pulled now',
    line: 2,
  },
  {
    keys: ['k'],
    intent: act('knob'),
    shown: 'k',
    short: 'knob',
    acts: true,
    words: 'A register knob (or gear) was moved; offered as advised, can be changed',
    line: 3,
  },
  {
    keys: ['r'],
    intent: act('roll-off'),
    shown: 'r',
    short: 'roll off',
    acts: true,
    words: 'A finished roll came off the rewind',
    line: 4,
  },
  {
    keys: ['u'],
    intent: act('new-stock'),
    shown: 'u',
    short: 'stock',
    acts: true,
    words: 'A new stock roll was spliced in at the unwind',
    line: 9,
  },
  {
    keys: ['x'],
    intent: act('stop-start'),
    shown: 'x',
    short: 'stop/run',
    acts: true,
    words: 'The press stopped, or runs again',
    line: 7,
  },
  {
    keys: ['o'],
    intent: act('ok-to-run'),
    shown: 'o',
    short: 'OK to run',
    acts: true,
    words: 'OK to run was given: on a full check, with the counter and who passed it',
    line: 10,
  },
  { keys: ['w'], intent: act('wash'), shown: 'w', short: 'wash', words: 'A plate was washed', line: 8 },
  {
    keys: ['s'],
    intent: { kind: 'seen' },
    shown: 's',
    short: 'seen',
    acts: true,
    words: 'Everything that is showing has been seen',
    line: 6,
  },
  {
    keys: ['v'],
    intent: act('counter'),
    shown: 'v',
    short: 'counter',
    acts: true,
    words: 'Counter read off the press, speed, or the counter set anew',
    line: 11,
  },
  {
    keys: ['b'],
    intent: act('changed'),
    shown: 'b',
    short: 'changed',
    acts: true,
    words: 'A plate, the die, the reference or a tolerance was changed',
  },
  {
    keys: ['y'],
    intent: act('web-set'),
    shown: 'y',
    short: 'tension',
    acts: true,
    words: 'Tension, dryer, stock or web guide was changed here: what moves the whole web',
    line: 17,
  },
  {
    keys: ['d'],
    intent: act('measure-knob'),
    shown: 'd',
    short: 'measure knob',
    acts: true,
    words:
      'Measure a knob: read, turn ten divisions, read again; says what one division moves the print, and whether its mark is true',
    line: 16,
  },
  { keys: ['n'], intent: act('note'), shown: 'n', short: 'note', words: 'A note for the handover' },
  { keys: ['t'], intent: act('shift'), shown: 't', short: 'shift', words: 'Shift change: who hands over to whom' },
  {
    keys: ['z'],
    intent: act('take-back'),
    shown: 'z',
    short: 'take back',
    words: 'Take an entry back; the log keeps both',
    line: 12,
  },
  { keys: ['e'], intent: act('end'), shown: 'e', short: 'end', words: 'The run has ended' },
  {
    keys: ['left', 'right'],
    intent: (key) => ({ kind: 'station', step: key === 'left' ? -1 : 1 }),
    shown: 'left right',
    short: '',
    words: 'Select the station before or after, as the web runs',
  },
  {
    keys: ['1', '2', '3', '4', '5', '6', '7', '8', '9'],
    intent: (key) => ({ kind: 'station-number', index: Number(key) - 1 }),
    shown: '1 to 9',
    short: '',
    words: 'Select a station by its place',
  },
  {
    keys: ['a', 'up', 'down'],
    intent: { kind: 'axis' },
    shown: 'a, up, down',
    short: 'along/across',
    words: 'Along or across',
  },
  { keys: ['+', '='], intent: { kind: 'chart', how: 'zoom-in' }, shown: '+', short: '', words: 'Chart: closer' },
  { keys: ['-'], intent: { kind: 'chart', how: 'zoom-out' }, shown: '-', short: '', words: 'Chart: wider' },
  { keys: ['[', 'page-up'], intent: { kind: 'chart', how: 'earlier' }, shown: '[', short: '', words: 'Chart: earlier' },
  { keys: [']', 'page-down'], intent: { kind: 'chart', how: 'later' }, shown: ']', short: '', words: 'Chart: later' },
  {
    keys: ['0', 'home'],
    intent: { kind: 'chart', how: 'whole' },
    shown: '0',
    short: '',
    words: 'Chart: the whole run',
  },
  {
    keys: ['g'],
    intent: { kind: 'chart', how: 'by-roll' },
    shown: 'g',
    short: '',
    words: 'Chart: by metres of web, or each finished roll equally wide',
  },
  {
    keys: ['i'],
    intent: { kind: 'page', page: 'events' },
    shown: 'i',
    short: 'what moved',
    words: 'List of what moved: state, cause, how sure in figures, what was done',
    line: 13,
  },
  {
    keys: ['h'],
    intent: { kind: 'page', page: 'handover' },
    shown: 'h',
    short: 'handover',
    words: 'The handover, as it stands now',
    line: 5,
  },
  {
    keys: ['f'],
    intent: { kind: 'far' },
    shown: 'f',
    short: 'far view',
    words: 'Large letters to read across the aisle; comes by itself after a minute without a key',
    line: 14,
  },
  { keys: ['m'], intent: { kind: 'mute' }, shown: 'm', short: '', words: 'Bell on or off' },
  { keys: ['?'], intent: { kind: 'page', page: 'help' }, shown: '?', short: 'help', words: 'This help', line: 0 },
  {
    keys: ['q', 'ctrl-c'],
    intent: { kind: 'quit' },
    shown: 'q',
    short: 'quit',
    words: 'Leave the board; the run stays open',
    line: 15,
  },
];

/** What a key asks for on the board, or null. */
export function intentOf(key: Keystroke): Intent | null {
  const name = 'name' in key ? key.name : key.char.toLowerCase();
  const found = BINDINGS.find((one) => one.keys.includes(name));
  if (found === undefined) return null;
  return typeof found.intent === 'function' ? found.intent(name) : found.intent;
}

export type GridKey = { readonly shown: string; readonly words: string };

/** Keys while a check is keyed. */
export const GRID_KEYS: readonly GridKey[] = [
  {
    shown: '5A  12B  0.05A  3/64A',
    words: 'Number and side: A ahead, B behind (along); O operator side, G gear side (across). A zero needs no side',
  },
  { shown: 'Enter, Tab', words: 'Take the field, go to the next; blank = not read' },
  { shown: 'Backspace', words: 'Rub out; in an empty field, go back' },
  { shown: 'arrows', words: 'Move between fields; they never change a number' },
  { shown: 'l', words: 'Looked, all in: every station looked at and in tolerance, without a number' },
  { shown: 'p', words: 'Plates: all clean' },
  { shown: 'w', words: 'All well: looked, all in, and all plates clean' },
  { shown: 'i, x', words: 'This station: looked, in (i) or off (x), without a number' },
  { shown: 'c b d, 3/40', words: 'In a plate field: clean, building, dirty; 3 flaws in 40 labels' },
  {
    shown: 'f k h i v',
    words: 'After b or d, what the flaw is: fill-in, speck, halo, dried ink, void. All of this may be left out',
  },
  { shown: 'e, t', words: 'After b or d, where it sits: at the leading edge, or the trailing edge' },
  {
    shown: 's, m',
    words: 'After b or d: it comes back at the same place every repeat (the plate), or it moves (debris)',
  },
  { shown: 'f', words: 'In any other field: go to the plate that is not clean' },
  { shown: 'm', words: 'Die: key the margins between print and cut instead' },
  { shown: 'e', words: 'Both edges of the web: a row for the operator edge and one for the gear edge' },
  { shown: 's', words: 'Another label of the sample read last, or a sample of its own after all' },
  { shown: 'n', words: 'A note to this check' },
  { shown: 'End', words: 'To the last line, where Enter saves the check' },
  { shown: 'PgUp, PgDn', words: 'An older or a newer sample that waits; c opens the newest' },
  { shown: 'Enter twice', words: 'On the last line with nothing keyed: the sample was not read and is thrown away' },
  { shown: 'Esc', words: 'Leave it half-keyed; c brings it back' },
];

/** The README's table of keys, in Markdown. */
export const keyTable = (): string =>
  ['| key | does |', '| --- | --- |', ...BINDINGS.map((one) => `| \`${one.shown}\` | ${one.words} |`)].join('\n');

/** The key line at the foot of the board, as many as fit, most needed first; what is needed changes with the run's phase. */
export function keyLine(
  width: number,
  rows: number,
  phase: Phase,
): readonly (readonly { readonly key: string; readonly words: string }[])[] {
  const first = FIRST[phase] ?? [];
  const rank = (one: Binding): number => (first.includes(one.shown) ? first.indexOf(one.shown) - 50 : (one.line ?? 0));
  const wanted = BINDINGS.filter((one) => one.line !== undefined && !(phase === 'ended' && one.acts === true)).sort(
    (a, b) => rank(a) - rank(b),
  );
  const lines: { key: string; words: string }[][] = [[]];
  let used = 1;
  for (const one of wanted) {
    const size = one.shown.length + 1 + one.short.length + 2;
    if (used + size > width + 2) {
      if (lines.length === rows) continue;
      lines.push([]);
      used = 1;
    }
    lines[lines.length - 1]?.push({ key: one.shown, words: one.short });
    used += size;
  }
  return lines;
}

/** What a phase asks for before all else. */
const FIRST: Partial<Readonly<Record<Phase, readonly string[]>>> = {
  'make-ready': ['?', 'p', 'c', 'k', 'o', 'x', 'v'],
  stopped: ['?', 'x', 'p', 'c', 'k', 'w'],
  ended: ['?', 'h', 'i', 'q'],
};
