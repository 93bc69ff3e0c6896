import type { Result } from '../core/result.js';
import { handoverText } from '../report/handover-text.js';
import { signSheet } from '../report/sign-questions.js';
import type { Runtime } from '../runtime.js';
import { loadDrafts, saveDrafts, setDraftsAside } from '../store/drafts.js';
import type { BoardPort, Drafts } from '../ui/port.js';
import { attachSensor, type SensorWanted } from './attach-sensor.js';
import { answer, BAD, type Exit, type Io, MACHINE, refuse } from './exit.js';
import { leaveWell } from './leave-well.js';

export type BoardOptions = {
  readonly data: string;
  readonly run?: string;
  readonly by?: string;
  readonly ascii?: boolean;
  readonly mute?: boolean;
  readonly sensor?: SensorWanted;
};

/** The board on an open run, until it is left; closes the run. */
export const showBoard = async (
  runtime: Runtime,
  options: Pick<BoardOptions, 'ascii' | 'mute' | 'sensor'>,
  io: Io,
): Promise<Exit> => {
  if (!process.stdin.isTTY || !process.stdout.isTTY) {
    const view = runtime.board();
    answer(io, `${view.job}, run ${view.run}: ${view.phase}. ${view.instruction.sentence}`);
    await runtime.close();
    return refuse(io, 'the board needs a terminal; from a script use holdreg check, moved, handover and the like', BAD);
  }
  const first =
    options.sensor === undefined || runtime.readOnly !== null ? null : await attachSensor(runtime, options.sensor);
  if (first !== null && !first.ok) {
    await runtime.close();
    return refuse(io, first.problem.message, BAD);
  }
  const { startBoard } = await import('../ui/terminal.js');
  let sensor = first?.ok === true ? first.value : null;
  const port = portOf(runtime, async () => {
    const took = runtime.takeOver();
    if (!took.ok || options.sensor === undefined) return took;
    const attached = await attachSensor(runtime, options.sensor);
    if (!attached.ok) return attached;
    sensor = attached.value;
    return took;
  });
  const shown = startBoard(port, {
    ascii: options.ascii ?? !speaksUtf8(process.env),
    color: process.env.NO_COLOR === undefined || process.env.NO_COLOR === '',
    mute: options.mute ?? false,
  });
  const left = leaveWell(async () => shown.stop());
  const ended = await Promise.race([shown.finished, left.signalled]);
  const code = left.asked() ?? ended;
  await sensor?.close();
  const trouble = runtime.trouble();
  const unsaved = await runtime.close();
  // A terminal that was closed still answers the last frame with an error, and its signal may come twice: until the run is free they must not end us.
  left.forget();
  if (unsaved > 0)
    return refuse(io, `${unsaved} sensor entries were never written: ${trouble ?? 'the disk refused'}`, MACHINE);
  return code as Exit;
};

const STILL_READING =
  'The log of this long run is still being read: what happened earlier is told in a moment. Leave with Esc and press h again.\n\n';

const portOf = (runtime: Runtime, takeOver: () => Promise<Result<null>>): BoardPort => ({
  view: runtime.board,
  subscribe: runtime.subscribe,
  chart: runtime.chart,
  submit: (body) => runtime.submit(body),
  doubt: runtime.doubt,
  handover: () => {
    const { view, whole } = runtime.handoverWords(null);
    return `${whole ? '' : STILL_READING}${handoverText(view)}`;
  },
  signSheet: () => signSheet(runtime.handoverWords(null).view),
  get readOnly() {
    return runtime.readOnly;
  },
  takeOver: () => (runtime.isFree() ? takeOver : null),
  operator: runtime.operator,
  setOperator: runtime.setOperator,
  now: runtime.now,
  get drafts() {
    return runtime.readOnly === null ? draftsOf(runtime.folder) : undefined;
  },
  quit: () => {},
});

/** What cannot be saved now is saved at the next field; the board has it meanwhile. */
const draftsOf = (folder: string): Drafts => ({
  load: () => loadDrafts(folder),
  save: (text) => void saveDrafts(folder, text),
  setAside: () => setDraftsAside(folder),
});

/** Braille and box drawing need a terminal that speaks UTF-8. */
const speaksUtf8 = (env: NodeJS.ProcessEnv): boolean => /utf-?8/i.test(env.LC_ALL || env.LC_CTYPE || env.LANG || '');
