import type { Axis } from '../core/axis.js';
import type { Turn } from '../core/finding.js';
import { nearest } from '../core/nearest.js';
import { quoted } from '../core/quoted.js';
import { parseKeyed } from '../core/reading.js';
import { fail, ok, type Result } from '../core/result.js';
import type { PracticeAct } from './act.js';

/** What a line typed at the practice press means. */
export type Command =
  | { readonly do: 'act'; readonly act: PracticeAct }
  | { readonly do: 'next' | 'wait' | 'key' | 'help' | 'why' | 'press' | 'pause' }
  | { readonly do: 'look'; readonly station: string }
  /** What was read under the loupe; station null = the one under it. */
  | {
      readonly do: 'read';
      readonly station: string | null;
      readonly along_mm: number | null;
      readonly across_mm: number | null;
    };

/** Every word, with its short form and what it does; the first of each is what the help lists. */
export const WORDS: readonly { readonly word: string; readonly short: string; readonly says: string }[] = [
  { word: 'pull', short: 'p', says: 'take a sample and lay it under the loupe' },
  { word: 'look 3', short: 'l', says: 'put another station under the loupe (Tab does too)' },
  { word: 'read 12A 5O', short: 'r', says: 'what you read, along and across, in hundredths of a mm' },
  { word: '', short: '', says: 'A ahead, B behind, O operator side, G gear side, 0 true, - not read' },
  { word: 'key', short: 'k', says: 'give what you read to the program as a check' },
  { word: 'again', short: 'a', says: 'another label of the same sample' },
  { word: 'turn 3 retard 5', short: 't', says: 'a knob, in divisions: advance, retard, operator, gear' },
  { word: 'turn 3 retard 2t', short: '', says: 'gears, in teeth; the press stopped, safe, print off' },
  { word: 'name 3 along', short: 'n', says: 'say what moved: so, or reference, web, plate 2, misread' },
  { word: 'wait', short: 'w', says: 'let the web run until a sample tells what you did' },
  { word: 'next', short: 'x', says: 'let the web run to the next check' },
  { word: 'run 50', short: '', says: 'let the web run so many metres' },
  { word: 'stop', short: '', says: 'the press; safe: make it safe; off, on: the print; start: run on' },
  { word: 'wash 2', short: '', says: 'wash a plate, the press stopped and safe' },
  { word: 'tension', short: '', says: 'set the tension back to what the job ran at' },
  { word: 'why', short: '', says: 'what the program says, and why (with hints on)' },
  { word: 'ok', short: '', says: 'give OK to run' },
  { word: 'press', short: '', says: 'what is known of press and job; pause: halt a game with a pace' },
  { word: 'end', short: '', says: 'end the exercise here and hear the truth' },
];

/** One typed line as a command; what is not understood is answered with what would be. */
export const parseCommand = (line: string): Result<Command> => {
  const [first = '', ...rest] = line.trim().toLowerCase().split(/\s+/);
  switch (first) {
    case 'pull':
    case 'p':
      return act({ kind: 'pull' });
    case 'again':
    case 'a':
      return act({ kind: 'label' });
    case 'next':
    case 'x':
      return ok({ do: 'next' });
    case 'wait':
    case 'w':
      return ok({ do: 'wait' });
    case 'key':
    case 'k':
      return ok({ do: 'key' });
    case 'help':
    case '?':
      return ok({ do: 'help' });
    case 'why':
    case 'press':
    case 'pause':
      return ok({ do: first });
    case 'stop':
    case 'safe':
    case 'start':
    case 'tension':
    case 'ok':
    case 'end':
      return act({ kind: first });
    case 'off':
      return act({ kind: 'print off' });
    case 'on':
      return act({ kind: 'print on' });
    case 'run':
      return run(rest);
    case 'look':
    case 'l':
      return rest[0] === undefined ? fail('Look at which station? As: look 3') : ok({ do: 'look', station: rest[0] });
    case 'read':
    case 'r':
      return read(rest);
    case 'turn':
    case 't':
      return turn(rest);
    case 'wash':
      return rest[0] === undefined ? fail('Wash which plate? As: wash 2') : act({ kind: 'wash', station: rest[0] });
    case 'name':
    case 'n':
      return rest.length === 0
        ? fail('Name what moved: name 3 along, name reference, name web, name plate 2, name misread')
        : act({ kind: 'name', what: rest.join(' ').slice(0, 40) });
    case '':
      return fail('Type a command, or help.');
    default:
      return unknown(first);
  }
};

/** Axis and direction words a student may use. */
const WAYS: Readonly<Record<string, Turn>> = {
  advance: 'advance',
  ahead: 'advance',
  a: 'advance',
  retard: 'retard',
  back: 'retard',
  r: 'retard',
  operator: 'to operator side',
  op: 'to operator side',
  o: 'to operator side',
  gear: 'to gear side',
  g: 'to gear side',
};

const act = (done: PracticeAct): Result<Command> => ok({ do: 'act', act: done });

const run = (rest: readonly string[]): Result<Command> => {
  const metres = Number((rest[0] ?? '').replace(/m$/, ''));
  return rest[0] !== undefined && Number.isFinite(metres) && metres >= 1
    ? act({ kind: 'run', metres })
    : fail(`Run how many metres? ${rest[0] === undefined ? '' : `${quoted(rest[0])} is no such number. `}As: run 20`);
};

const turn = (rest: readonly string[]): Result<Command> => {
  const [station, way, ...amounts] = rest;
  if (station === undefined || way === undefined || amounts.length === 0)
    return fail('Turn what, which way, how far? As: turn 3 retard 5, or with teeth: turn 3 retard 1t 5');
  const toward = WAYS[way];
  if (toward === undefined)
    return fail(`${quoted(way)} is no direction; use advance, retard, operator or gear. Nothing was turned.`);
  let teeth = 0;
  let divisions = 0;
  for (const amount of amounts) {
    const found = /^([-−]?\d{1,4})(t|d)?$/.exec(amount);
    if (found === null)
      return fail(`${quoted(amount)} is no number of divisions, nor of teeth (2t). Nothing was turned.`);
    const count = Number((found[1] ?? '0').replace('−', '-'));
    if (found[2] === 't') teeth += count;
    else divisions += count;
  }
  return act({ kind: 'turn', station, toward, teeth, divisions });
};

const read = (rest: readonly string[]): Result<Command> => {
  const named = rest.length === 3 ? (rest[0] ?? null) : null;
  const [along, across] = named === null ? rest : rest.slice(1);
  if (along === undefined || across === undefined || rest.length > 3)
    return fail('Read what? Along and across, as: read 12A 5O. 0 is true, - is not read.');
  const one = (text: string, axis: Axis) => parseKeyed(text === '-' ? '' : text, 'mm', axis);
  const a = one(along, 'along');
  if (!a.ok) return fail(`along: ${a.problem.message}`);
  const c = one(across, 'across');
  if (!c.ok) return fail(`across: ${c.problem.message}`);
  return ok({ do: 'read', station: named, along_mm: a.value.mm, across_mm: c.value.mm });
};

const unknown = (word: string): Result<Command> => {
  const known = WORDS.map((w) => w.word.split(' ')[0] ?? '');
  const near = nearest(word, [...known, 'help', 'off', 'on', 'safe', 'start', 'pause']);
  return fail(
    `${quoted(word)} is no command here${near === null ? '' : `; did you mean ${near}?`} Type help for all of them.`,
  );
};
