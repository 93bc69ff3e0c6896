import type { ActName } from './acts/act.js';
import { ACTS } from './acts/index.js';
import { pullWords, stampPull } from './acts/pull.js';
import { moveChart } from './chart-window.js';
import { type Intent, intentOf } from './keymap.js';
import type { Keystroke } from './keystroke.js';
import type { Screen, ScreenContext, ScreenStep } from './looking.js';
import { only, refuse, say } from './only.js';
import { openGrid } from './open-grid.js';
import { actContext, selectedStation } from './selected-station.js';

/** A key on the board itself, or on the far view, which it leaves. */
export function stepBoard(before: Screen, key: Keystroke, context: ScreenContext, wasFar: boolean): ScreenStep {
  const screen: Screen = { ...before, message: null };
  const intent = intentOf(key);
  if (intent === null) return only(screen);
  if (context.free && isAct(intent)) return { screen, effect: { kind: 'take-over' } };
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

const isAct = ({ kind }: Intent): boolean => kind === 'act' || kind === 'pull' || kind === 'check' || kind === 'seen';

/** Why an act cannot be done at all now, or null. */
function refusalOf(intent: Intent, context: ScreenContext): string | null {
  if (!isAct(intent)) return null;
  if (context.readOnly !== null) return `This board only looks: ${context.readOnly}`;
  const late = intent.kind === 'act' && (intent.act === 'note' || intent.act === 'take-back' || intent.act === 'shift');
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
  // The sample in the hand is the newest; an older one that was never read does not stand in its way.
  const newest = context.view.pulled.at(-1);
  return newest === undefined ? pulled(screen, context, true) : only(openGrid(screen, String(newest.check), context));
}
