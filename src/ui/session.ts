import type { LogRecord } from '../core/record.js';
import { fail, type Result } from '../core/result.js';
import { readDrafts } from './check/read-drafts.js';
import { eventPage } from './draw/events.js';
import { helpLines } from './draw/help.js';
import type { Keystroke } from './keystroke.js';
import { pastedText, refusePaste, strokesOfPaste } from './paste.js';
import type { BoardPort } from './port.js';
import {
  type Effect,
  initialScreen,
  type PageName,
  type Screen,
  type ScreenContext,
  type ScreenStep,
  stepScreen,
  tickScreen,
} from './screen.js';
import { settleScreen } from './settle-screen.js';
import type { Look } from './theme.js';

/** The board without a terminal: keys in, screen out. Keys that come while a record is being written wait their turn. */
export type Session = {
  readonly screen: () => Screen;
  readonly key: (stroke: Keystroke) => void;
  /** Time passed; nothing but the far view comes of it. */
  readonly tick: () => void;
  /** Rows a page shows at once, and whether the terminal has room for the board: while it has none, only leaving is taken. */
  readonly resize: (rows: number, drawn?: boolean) => void;
  /** Text that was pasted: it fills a field, without Enter; anywhere else it would be keyed as commands, and is dropped. */
  readonly paste: (text: string) => void;
  /** A fault while drawing: what is half-keyed is set aside, and the board alone is shown. Tells nobody; the caller draws again. */
  readonly setAside: (fault: unknown) => Screen;
  readonly subscribe: (changed: () => void) => () => void;
  /** Resolves when every key so far has been dealt with. */
  readonly settled: () => Promise<void>;
};

export type SessionOptions = {
  readonly look: Look;
  readonly mute: boolean;
  readonly pageRows: number;
  readonly quit: (code: number) => void;
  /** The operator's own time, for how long no key came; a demo runs faster than that. Default: the port's clock. */
  readonly idleClock?: () => number;
};

export function createSession(port: BoardPort, options: SessionOptions): Session {
  const idleNow = options.idleClock ?? (() => port.now());
  const found = loadDrafts(port);
  let screen: Screen = { ...initialScreen(idleNow(), options.mute, found.drafts), message: found.message };
  let pageRows = options.pageRows;
  let drawn = true;
  let leaving = 0;
  let working: Promise<void> | null = null;
  const waiting: Keystroke[] = [];
  let held = 0;
  const watchers = new Set<() => void>();

  const context = (): ScreenContext => ({
    view: port.view(),
    nowMs: idleNow(),
    operator: port.operator(),
    readOnly: port.readOnly,
    free: port.readOnly !== null && (port.takeOver?.() ?? null) !== null,
    doubt: (station, axis, mm, check) => port.doubt(station, axis, mm, check),
    ...(port.signSheet === undefined ? {} : { signSheet: port.signSheet }),
    page: (name) => pageLines(name, port, options.look),
    pageRows,
  });

  const show = (next: Screen): void => {
    if (next === screen) return;
    const before = screen;
    screen = next;
    if (next.drafts !== before.drafts) saveDrafts(port, before.drafts, next.drafts);
    for (const changed of [...watchers]) changed();
  };

  const take = (step: ScreenStep): Effect | null => {
    show(step.screen);
    return step.effect;
  };

  /** A fault behind one key must not take the board away: it is said, and the next key works. */
  const step = (stroke: Keystroke): Effect | null => {
    try {
      return take(stepScreen(screen, stroke, context()));
    } catch (error) {
      show({ ...screen, message: { text: faultWords(error), tone: 'trouble' } });
      return null;
    }
  };

  /** What whoever held the run had half keyed is taken over with it. */
  const takeOver = async (): Promise<void> => {
    const took = await port.takeOver?.()?.();
    if (took?.ok !== true) {
      show({ ...screen, message: { text: took?.problem.message ?? 'The run is held again.', tone: 'trouble' } });
      return;
    }
    const theirs = loadDrafts(port);
    screen = { ...screen, drafts: theirs.drafts };
    show({
      ...screen,
      message: theirs.message ?? { text: 'This board writes the run now. Key it again.', tone: 'say' },
    });
  };

  const perform = async (first: Effect): Promise<void> => {
    let effect: Effect | null = first;
    while (effect !== null) {
      if (effect.kind === 'quit') {
        options.quit(effect.code);
        return;
      }
      if (effect.kind === 'take-over') {
        await takeOver();
        return;
      }
      const { records, after } = effect;
      const saved: LogRecord[] = [];
      let trouble: string | null = null;
      for (const record of records) {
        const result = await port.submit(record).catch(fault);
        if (!result.ok) {
          trouble = result.problem.message;
          break;
        }
        saved.push(result.value);
      }
      if (trouble === null && after.kind === 'form' && after.outcome.operator !== undefined)
        port.setOperator(after.outcome.operator);
      effect = take(settleScreen(screen, after, trouble, saved, context()));
    }
  };

  const run = async (): Promise<void> => {
    for (let stroke = waiting.shift(); stroke !== undefined; stroke = waiting.shift()) {
      const effect = step(stroke);
      if (effect !== null) await perform(effect);
    }
    working = null;
    held = 0;
  };

  /** Nobody sees what a key does on a terminal that is too small: only the way out is open, with Ctrl-C twice from anywhere. */
  const blindly = (stroke: Keystroke): boolean => {
    const ctrlC = 'name' in stroke && stroke.name === 'ctrl-c';
    leaving = ctrlC ? leaving + 1 : 0;
    if (leaving >= 2) options.quit(130);
    const { mode } = screen;
    if (leaving >= 2 || mode.kind === 'grid') return false;
    if (mode.kind === 'form') return mode.form.act === 'quit';
    return ctrlC || ('char' in stroke && stroke.char === 'q');
  };

  const key = (stroke: Keystroke): void => {
    if (!drawn && !blindly(stroke)) return;
    if (working === null && waiting.length === 0) {
      // The common key changes the screen at once, without waiting for a turn of the loop.
      const effect = step(stroke);
      if (effect !== null) working = perform(effect).then(run);
      return;
    }
    // A disk that never answers must not hold the operator: Ctrl-C twice leaves even then.
    if ('name' in stroke && stroke.name === 'ctrl-c') {
      held += 1;
      if (held >= 2) options.quit(130);
    }
    waiting.push(stroke);
  };

  const paste = (text: string): void => {
    const clean = pastedText(text);
    const into = drawn ? strokesOfPaste(clean, screen) : null;
    if (into === null) show(refusePaste(screen, [...text].length));
    else for (const stroke of into) key(stroke);
  };

  const setAside = (fault: unknown): Screen => {
    const aside = port.drafts?.setAside?.() ?? null;
    const kept = Object.keys(screen.drafts).length === 0 ? '' : ` ${asideWords(aside)}`;
    const text = `A fault while drawing: ${fault instanceof Error ? fault.message : String(fault)}.${kept}`;
    // The way out stays open where every drawing fails.
    const mode: Screen['mode'] =
      screen.mode.kind === 'form' && screen.mode.form.act === 'quit' ? screen.mode : { kind: 'board' };
    screen = { ...initialScreen(idleNow(), screen.muted), mode, message: { text, tone: 'trouble' } };
    return screen;
  };

  return {
    screen: () => screen,
    key,
    paste,
    setAside,
    tick: () => show(tickScreen(screen, idleNow())),
    resize: (rows, roomy = true) => {
      pageRows = rows;
      drawn = roomy;
      leaving = 0;
    },
    subscribe: (changed) => {
      watchers.add(changed);
      return () => watchers.delete(changed);
    },
    settled: async () => {
      while (working !== null) await working;
    },
  };
}

/** Text of pages is wrapped for the least width, so that it reads the same on every board. */
const PAGE_WIDTH = 78;

function pageLines(name: PageName, port: BoardPort, look: Look): readonly string[] {
  if (name === 'help') return helpLines(port.view(), look, PAGE_WIDTH);
  if (name === 'events') return eventPage(port.view(), PAGE_WIDTH);
  return port.handover().split('\n');
}

type Loaded = { readonly drafts: Screen['drafts']; readonly message: Screen['message'] };

/** What cannot be understood (another version's, half-written) is set aside, not written over: a person may still read it. */
function loadDrafts(port: BoardPort): Loaded {
  const text = port.drafts?.load() ?? null;
  if (text === null) return { drafts: {}, message: null };
  const read = readDrafts(text);
  if (!read.odd) return { drafts: read.drafts, message: null };
  return { drafts: read.drafts, message: { text: asideWords(port.drafts?.setAside?.() ?? null), tone: 'trouble' } };
}

const asideWords = (aside: string | null): string =>
  aside === null
    ? 'A half-keyed check could not be understood and was left out.'
    : `A half-keyed check could not be understood; it was set aside as ${aside} in the folder of the run.`;

/** Kept when a field is left, a flaw is named, a draft is begun, or a check is saved: not at every digit. */
function saveDrafts(port: BoardPort, before: Screen['drafts'], after: Screen['drafts']): void {
  if (port.drafts === undefined) return;
  const names = Object.keys(after);
  const moved =
    names.length !== Object.keys(before).length ||
    names.some((name) => {
      const [was, is] = [before[name], after[name]];
      return was?.at !== is?.at || Object.entries(is?.rows ?? {}).some(([id, row]) => row.flaw !== was?.rows[id]?.flaw);
    });
  if (moved) port.drafts.save(JSON.stringify(after));
}

const faultWords = (error: unknown): string =>
  `A fault in the program: ${error instanceof Error ? error.message : String(error)}. Nothing was written by that key.`;

const fault = (error: unknown): Result<LogRecord> => fail(faultWords(error));
