import type { Axis } from '../core/axis.js';
import type { LogRecord, RecordBody } from '../core/record.js';
import type { BoardView } from '../core/views/board-view.js';
import type { ActContext, ActName, Outcome } from './acts/act.js';
import { ACTS } from './acts/index.js';
import { nextMove } from './acts/knob.js';
import { pullWords, stampPull } from './acts/pull.js';
import { type ChartWindow, moveChart } from './chart-window.js';
import { type Draft, newDraft } from './check/draft.js';
import { type GridContext, stepGrid } from './check/step-grid.js';
import { draftWords, toCheck } from './check/to-check.js';
import { type Form, stepForm } from './form.js';
import { type Intent, intentOf } from './keymap.js';
import type { Keystroke } from './keystroke.js';

export type PageName = 'help' | 'handover' | 'events';

export type Mode =
  | { readonly kind: 'board' }
  | { readonly kind: 'grid'; readonly check: string }
  | { readonly kind: 'form'; readonly form: Form }
  | { readonly kind: 'page'; readonly page: PageName; readonly lines: readonly string[]; readonly top: number }
  | { readonly kind: 'far'; readonly byItself: boolean };

/** Where you are looking, and what is typed but not confirmed. Never logged. */
export type Screen = {
  readonly selected: { readonly station: string | null; readonly axis: Axis };
  readonly window: ChartWindow | null;
  readonly by: 'web' | 'roll';
  readonly mode: Mode;
  /** Half-keyed checks by check number. */
  readonly drafts: Readonly<Record<string, Draft>>;
  readonly message: { readonly text: string; readonly tone: 'say' | 'trouble' } | null;
  readonly lastKeyMs: number;
  readonly muted: boolean;
};

export type ScreenContext = {
  readonly view: BoardView;
  readonly nowMs: number;
  readonly operator: string;
  readonly readOnly: string | null;
  readonly doubt: GridContext['doubt'];
  readonly page: (page: PageName) => readonly string[];
  /** Rows a page shows at once. */
  readonly pageRows: number;
};

/** What follows once records are on disk. */
export type After =
  | { readonly kind: 'form'; readonly form: Form; readonly outcome: Outcome }
  | { readonly kind: 'stamp'; readonly said: string; readonly grid: boolean }
  | { readonly kind: 'check'; readonly check: string; readonly said: string }
  | { readonly kind: 'say'; readonly said: string };

export type Effect =
  | { readonly kind: 'submit'; readonly records: readonly RecordBody[]; readonly after: After }
  | { readonly kind: 'quit'; readonly code: number };

export type ScreenStep = { readonly screen: Screen; readonly effect: Effect | null };

export const FAR_AFTER_MS = 60_000;

export const initialScreen = (nowMs: number, muted: boolean, drafts: Screen['drafts'] = {}): Screen => ({
  selected: { station: null, axis: 'along' },
  window: null,
  by: 'web',
  mode: { kind: 'board' },
  drafts,
  message: null,
  lastKeyMs: nowMs,
  muted,
});

/** One key, wherever the operator is looking. */
export function stepScreen(before: Screen, key: Keystroke, context: ScreenContext): ScreenStep {
  const screen: Screen = { ...before, lastKeyMs: context.nowMs };
  switch (screen.mode.kind) {
    case 'grid':
      return stepInGrid(screen, screen.mode.check, key, context);
    case 'form':
      return stepInForm(screen, screen.mode.form, key, context);
    case 'page':
      return only(stepPage(screen, screen.mode, key, context));
    case 'far':
      return stepBoard({ ...screen, mode: { kind: 'board' } }, key, context, true);
    default:
      return stepBoard(screen, key, context, false);
  }
}

/** Time alone: after a minute without a key the board is made readable from across the aisle. */
export function tickScreen(screen: Screen, nowMs: number): Screen {
  const idle = screen.mode.kind === 'board' && nowMs - screen.lastKeyMs >= FAR_AFTER_MS;
  return idle ? { ...screen, mode: { kind: 'far', byItself: true } } : screen;
}

/** What became of a submit: done, or the trouble it ran into. On trouble everything typed stays. */
export function settleScreen(
  screen: Screen,
  after: After,
  trouble: string | null,
  saved: readonly LogRecord[],
  context: ScreenContext,
): ScreenStep {
  if (trouble !== null) {
    const draft = screen.mode.kind === 'grid' ? screen.drafts[screen.mode.check] : undefined;
    if (draft !== undefined)
      return only({
        ...screen,
        drafts: { ...screen.drafts, [String(draft.check)]: { ...draft, message: `NOT SAVED: ${trouble}` } },
      });
    const mode: Mode =
      screen.mode.kind === 'form'
        ? { kind: 'form', form: { ...screen.mode.form, message: `NOT SAVED: ${trouble}` } }
        : screen.mode;
    return only({ ...screen, mode, message: { text: `NOT SAVED: ${trouble}`, tone: 'trouble' } });
  }
  if (after.kind === 'say') return only(say(screen, after.said));
  if (after.kind === 'check')
    return only({
      ...say({ ...screen, mode: { kind: 'board' } }, after.said),
      drafts: without(screen.drafts, after.check),
    });
  if (after.kind === 'stamp') return only(after.grid ? openPulled(screen, saved, context) : say(screen, after.said));
  const { outcome, form } = after;
  if (outcome.next === 'quit') return { screen, effect: { kind: 'quit', code: 0 } };
  if (outcome.next === 'next-move')
    return only({ ...screen, mode: { kind: 'form', form: nextMove(form, actContext(screen, context)) } });
  const done = say({ ...screen, mode: { kind: 'board' } }, outcome.said);
  if (outcome.next !== 'grid') return only(done);
  return only(saved.length > 0 ? openPulled(done, saved, context) : openGrid(done, outcome.check ?? '', context));
}

/** The station the board's cursor is on: the one chosen, else the one that moved, else the first that is measured. */
export function selectedStation(screen: Screen, view: BoardView): string {
  const chosen = view.stations.find((one) => one.id === screen.selected.station);
  if (chosen !== undefined) return chosen.id;
  const open =
    view.events.find((one) => one.id === view.instruction.event && one.open) ?? view.events.find((one) => one.open);
  // Of the reference nothing is read; where it moved, the station that shows it most is looked at.
  const read = (open?.shifts_mm ?? []).filter((one) =>
    view.stations.some((station) => station.id === one.station && !station.is_reference && station.read === 'measure'),
  );
  const most = [...read].sort((a, b) => Math.abs(b.mm) - Math.abs(a.mm))[0]?.station;
  const measured = view.stations.find((one) => one.read === 'measure' && !one.is_reference)?.id;
  return most ?? measured ?? view.stations[0]?.id ?? '';
}

export const actContext = (
  screen: Screen,
  context: Pick<ScreenContext, 'view' | 'operator' | 'nowMs'>,
): ActContext => ({
  view: context.view,
  operator: context.operator,
  nowMs: context.nowMs,
  selected: { station: selectedStation(screen, context.view), axis: screen.selected.axis },
});

const only = (screen: Screen): ScreenStep => ({ screen, effect: null });

const say = (screen: Screen, text: string): Screen => ({
  ...screen,
  message: text === '' ? null : { text, tone: 'say' },
});

const refuse = (screen: Screen, text: string): ScreenStep => only({ ...screen, message: { text, tone: 'trouble' } });

function without(drafts: Screen['drafts'], check: string): Screen['drafts'] {
  const { [check]: _gone, ...rest } = drafts;
  return rest;
}

function stepBoard(before: Screen, key: Keystroke, context: ScreenContext, wasFar: boolean): ScreenStep {
  const screen: Screen = { ...before, message: null };
  const intent = intentOf(key);
  if (intent === null) return only(screen);
  const refusal = refusalOf(intent, context);
  if (refusal !== null) return refuse(screen, refusal);
  switch (intent.kind) {
    case 'pull':
      return pulled(screen, context, false);
    case 'check':
      return check(screen, context);
    case 'seen':
      return {
        screen,
        effect: {
          kind: 'submit',
          records: [{ type: 'seen', web_m: context.view.position.web_m ?? 0 }],
          after: { kind: 'say', said: 'Seen, all that is showing.' },
        },
      };
    case 'act':
      return openAct(screen, intent.act, context);
    case 'quit':
      return openAct(screen, 'quit', context);
    case 'station': {
      const ids = context.view.stations.map((one) => one.id);
      const step = context.view.web_runs === 'right-to-left' ? -intent.step : intent.step;
      const at = Math.max(0, Math.min(ids.length - 1, ids.indexOf(selectedStation(screen, context.view)) + step));
      return only(select(screen, ids[at] ?? null));
    }
    case 'station-number':
      return only(select(screen, context.view.stations[intent.index]?.id ?? screen.selected.station));
    case 'axis':
      return only({
        ...screen,
        selected: { ...screen.selected, axis: screen.selected.axis === 'along' ? 'across' : 'along' },
      });
    case 'chart':
      return only(
        intent.how === 'by-roll'
          ? { ...screen, by: screen.by === 'web' ? 'roll' : 'web' }
          : { ...screen, window: moveChart(screen.window, intent.how, context.view.position.web_m ?? 0) },
      );
    case 'page':
      return only({ ...screen, mode: { kind: 'page', page: intent.page, lines: context.page(intent.page), top: 0 } });
    case 'far':
      return only({ ...screen, mode: wasFar ? { kind: 'board' } : { kind: 'far', byItself: false } });
    case 'mute':
      return only(say({ ...screen, muted: !screen.muted }, screen.muted ? 'Bell on.' : 'Bell off.'));
  }
}

const select = (screen: Screen, station: string | null): Screen => ({
  ...screen,
  selected: { ...screen.selected, station },
});

/** Why an act cannot be done at all now, or null. */
function refusalOf(intent: Intent, context: ScreenContext): string | null {
  const acts = intent.kind === 'act' || intent.kind === 'pull' || intent.kind === 'check' || intent.kind === 'seen';
  if (!acts) return null;
  if (context.readOnly !== null) return `This board only looks: ${context.readOnly}`;
  const late = intent.kind === 'act' && (intent.act === 'note' || intent.act === 'take-back');
  return context.view.phase === 'ended' && !late
    ? 'The run has ended: nothing more is keyed to it. h shows the handover, z takes an entry back.'
    : null;
}

function openAct(screen: Screen, name: ActName, context: ScreenContext): ScreenStep {
  const opened = ACTS[name].open(actContext(screen, context));
  return opened.ok
    ? only({ ...screen, mode: { kind: 'form', form: opened.value } })
    : refuse(screen, opened.problem.message);
}

function pulled(screen: Screen, context: ScreenContext, grid: boolean): ScreenStep {
  const stamp = stampPull(context.view);
  if (stamp !== null)
    return {
      screen,
      effect: {
        kind: 'submit',
        records: [stamp],
        after: { kind: 'stamp', said: pullWords(context.view, stamp), grid },
      },
    };
  const opened = ACTS.pull.open(actContext(screen, context));
  if (!opened.ok) return refuse(screen, opened.problem.message);
  return only({ ...screen, mode: { kind: 'form', form: { ...opened.value, carried: { grid: grid ? 'yes' : 'no' } } } });
}

function check(screen: Screen, context: ScreenContext): ScreenStep {
  const waiting = context.view.pulled;
  const first = waiting[0];
  if (first === undefined) return pulled(screen, context, true);
  return waiting.length === 1
    ? only(openGrid(screen, String(first.check), context))
    : openAct(screen, 'pending', context);
}

function openGrid(screen: Screen, check: string, context: ScreenContext): Screen {
  const waiting = context.view.pulled.find((one) => String(one.check) === check);
  const draft = screen.drafts[check] ?? (waiting === undefined ? undefined : newDraft(waiting, context.view));
  if (draft === undefined)
    return { ...screen, message: { text: `Sample ${check} is not waiting any more.`, tone: 'trouble' } };
  return { ...screen, message: null, mode: { kind: 'grid', check }, drafts: { ...screen.drafts, [check]: draft } };
}

function openPulled(screen: Screen, saved: readonly LogRecord[], context: ScreenContext): Screen {
  const record = saved.find((one) => one.type === 'pull');
  if (record === undefined || record.type !== 'pull') return screen;
  const check = String(record.check);
  const draft =
    screen.drafts[check] ??
    newDraft({ check: record.check, web_m: record.web_m, roll: record.roll, at: record.at }, context.view);
  return { ...screen, message: null, mode: { kind: 'grid', check }, drafts: { ...screen.drafts, [check]: draft } };
}

function stepInGrid(screen: Screen, check: string, key: Keystroke, context: ScreenContext): ScreenStep {
  const draft = screen.drafts[check];
  if (draft === undefined) return only({ ...screen, mode: { kind: 'board' } });
  const step = stepGrid(draft, key, context);
  const next: Screen = { ...screen, message: null, drafts: { ...screen.drafts, [check]: step.draft } };
  if (step.outcome === 'leave')
    return only(say({ ...next, mode: { kind: 'board' } }, `Check ${check} is kept half-keyed; c brings it back.`));
  if (step.outcome === 'stay') return only(next);
  const said = `Check ${check} saved: ${draftWords(step.draft, context.view)}.`;
  return {
    screen: next,
    effect: { kind: 'submit', records: [toCheck(step.draft, context.view)], after: { kind: 'check', check, said } },
  };
}

function stepInForm(screen: Screen, form: Form, key: Keystroke, context: ScreenContext): ScreenStep {
  const act = ACTS[form.act];
  const acting = actContext(screen, context);
  // Ctrl-C twice leaves at once: the second one is a way out that always works.
  if (form.act === 'quit' && 'name' in key && key.name === 'ctrl-c')
    return { screen, effect: { kind: 'quit', code: 130 } };
  const step = stepForm(form, key);
  if (step.outcome === 'leave') return only({ ...screen, mode: { kind: 'board' } });
  if (step.outcome === 'stay')
    return only({ ...screen, mode: { kind: 'form', form: act.revise?.(step.form, acting) ?? step.form } });
  const outcome = act.outcome(step.form, acting);
  if (!outcome.ok)
    return only({ ...screen, mode: { kind: 'form', form: { ...step.form, message: outcome.problem.message } } });
  return {
    screen,
    effect: {
      kind: 'submit',
      records: outcome.value.records,
      after: { kind: 'form', form: step.form, outcome: outcome.value },
    },
  };
}

function stepPage(
  screen: Screen,
  mode: Extract<Mode, { kind: 'page' }>,
  key: Keystroke,
  context: ScreenContext,
): Screen {
  const last = Math.max(0, mode.lines.length - context.pageRows);
  const to = (top: number): Screen => ({ ...screen, mode: { ...mode, top: Math.max(0, Math.min(last, top)) } });
  if ('char' in key) return key.char === ' ' ? to(mode.top + context.pageRows) : { ...screen, mode: { kind: 'board' } };
  switch (key.name) {
    case 'down':
      return to(mode.top + 1);
    case 'up':
      return to(mode.top - 1);
    case 'page-down':
    case 'enter':
      return mode.top >= last && key.name === 'enter'
        ? { ...screen, mode: { kind: 'board' } }
        : to(mode.top + context.pageRows);
    case 'page-up':
      return to(mode.top - context.pageRows);
    case 'home':
      return to(0);
    case 'end':
      return to(last);
    default:
      return { ...screen, mode: { kind: 'board' } };
  }
}
