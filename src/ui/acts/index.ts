import type { Act, ActName } from './act.js';
import { changed } from './changed.js';
import { counter } from './counter.js';
import { end } from './end.js';
import { knob } from './knob.js';
import { measureKnob } from './measure-knob.js';
import { newStock } from './new-stock.js';
import { note } from './note.js';
import { okToRun } from './ok-to-run.js';
import { pull } from './pull.js';
import { quit } from './quit.js';
import { rollOff } from './roll-off.js';
import { shift } from './shift.js';
import { stopStart } from './stop-start.js';
import { takeBack } from './take-back.js';
import { wash } from './wash.js';
import { webSet } from './web-set.js';

/** Every act of the board, by name. */
export const ACTS: Readonly<Record<ActName, Act>> = {
  knob,
  'measure-knob': measureKnob,
  'roll-off': rollOff,
  'new-stock': newStock,
  'stop-start': stopStart,
  'ok-to-run': okToRun,
  wash,
  counter,
  changed,
  'web-set': webSet,
  note,
  shift,
  'take-back': takeBack,
  end,
  pull,
  quit,
};
