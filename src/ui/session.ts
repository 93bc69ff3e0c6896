import type { LogRecord } from '../core/record.js';
import { fail, type Result } from '../core/result.js';
import type { Draft } from './check/draft.js';
import { eventLines } from './draw/events.js';
import { helpLines } from './draw/help.js';
import type { Keystroke } from './keystroke.js';
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
  readonly resize: (rows: number) => void;
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
  let screen = initialScreen(idleNow(), options.mute, loadDrafts(port));
  let pageRows = options.pageRows;
  let working: Promise<void> | null = null;
  const waiting: Keystroke[] = [];
  let held = 0;
  const watchers = new Set<() => void>();

  const context = (): ScreenContext => ({
    view: port.view(),
    nowMs: idleNow(),
    operator: port.operator(),
    readOnly: port.readOnly,
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

  const perform = async (first: Effect): Promise<void> => {
    let effect: Effect | null = first;
    while (effect !== null) {
      if (effect.kind === 'quit') {
        options.quit(effect.code);
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

  return {
    screen: () => screen,
    key: (stroke) => {
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
    },
    tick: () => show(tickScreen(screen, idleNow())),
    resize: (rows) => {
      pageRows = rows;
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
  if (name === 'events') return eventLines(port.view(), PAGE_WIDTH);
  return port.handover().split('\n');
}

function loadDrafts(port: BoardPort): Screen['drafts'] {
  const text = port.drafts?.load() ?? null;
  if (text === null) return {};
  try {
    const found: unknown = JSON.parse(text);
    return isDrafts(found) ? found : {};
  } catch {
    // A half-written draft is worth less than a board that opens.
    return {};
  }
}

const isDrafts = (found: unknown): found is Record<string, Draft> =>
  typeof found === 'object' &&
  found !== null &&
  Object.values(found).every(
    (one) =>
      typeof one === 'object' && one !== null && 'rows' in one && 'at' in one && 'check' in one && 'asked' in one,
  );

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
