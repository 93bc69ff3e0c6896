import { Box, useInput, usePaste, useWindowSize } from 'ink';
import { type ReactElement, useEffect, useMemo, useRef, useState } from 'react';
import { fitRows, type Row, row, wrapWords } from './draw/row.js';
import { drawFrame, type FrameModel, pageRows } from './frame.js';
import { keystrokes } from './keystroke.js';
import { layout } from './layout.js';
import { ScreenRows } from './panels/screen-rows.js';
import type { BoardPort } from './port.js';
import type { Session } from './session.js';
import { type Look, paint } from './theme.js';
import { useStopAndGo } from './use-stop-and-go.js';

export type AppProps = {
  readonly port: BoardPort;
  readonly session: Session;
  readonly look: Look;
  /** How rows are handed to the terminal library; as they are unless said. */
  readonly encode?: (rows: readonly string[]) => readonly string[];
  /** For tests; otherwise the terminal's own size. */
  readonly size?: { readonly columns: number; readonly rows: number };
};

/** The root: the only place that reads keys, and the only one that knows the size of the terminal. */
export function App({ port, session, look, encode, size }: AppProps): ReactElement {
  const window = useWindowSize();
  const { columns, rows } = size ?? window;
  const [, redraw] = useState(0);
  useEffect(() => {
    const changed = (): void => redraw((n) => n + 1);
    const stops = [port.subscribe(changed), session.subscribe(changed)];
    return () => {
      for (const stop of stops) stop();
    };
  }, [port, session]);
  useEffect(() => session.resize(pageRows(rows), layout(columns, rows) !== null), [session, columns, rows]);
  useInput((input, key) => {
    for (const stroke of keystrokes(input, key)) session.key(stroke);
  });
  useStopAndGo();
  usePaste((text) => session.paste(text));
  // The position is carried on by the clock: once a second the port is asked whether anything looks different by now.
  const drawn = useRef<{ readonly view: unknown; readonly clock: string }>({ view: null, clock: '' });
  useEffect(() => {
    const timer = setInterval(() => {
      if (port.view() !== drawn.current.view || clockWords(port.now()) !== drawn.current.clock) redraw((n) => n + 1);
    }, 1000);
    return () => clearInterval(timer);
  }, [port]);
  const cached = useMemo(() => chartCache(port), [port]);
  const nowMs = port.now();
  const view = port.view();
  const clock = clockWords(nowMs);
  drawn.current = { view, clock };
  const frame = drawSafely(session, {
    view,
    chart: cached,
    columns,
    rows,
    look,
    clock,
    nowMs,
    operator: port.operator(),
    readOnly: port.readOnly,
  });
  return (
    <Box width={columns} height={rows}>
      <ScreenRows rows={encode?.(frame) ?? frame} />
    </Box>
  );
}

/** A fault while drawing must not take the board away, at this opening and every later one: what is half-keyed is set aside, and said. */
function drawSafely(session: Session, model: Omit<FrameModel, 'screen'>): readonly string[] {
  const painted = (rows: readonly Row[]): readonly string[] => rows.map((line) => paint(line, model.look).trimEnd());
  try {
    return painted(drawFrame({ ...model, screen: session.screen() }));
  } catch (fault) {
    const screen = session.setAside(fault);
    try {
      return painted(drawFrame({ ...model, screen }));
    } catch {
      const words = `${screen.message?.text ?? ''} The log is sound; q and Enter leave.`;
      const lines = wrapWords(words, model.columns).map((line) => row(line));
      return painted(fitRows(lines, model.columns, model.rows));
    }
  }
}

/** A chart is made anew only when the view, the station, the axis or the window changed. */
function chartCache(port: BoardPort): (...asked: Parameters<BoardPort['chart']>) => ReturnType<BoardPort['chart']> {
  let last: {
    readonly view: unknown;
    readonly asked: Parameters<BoardPort['chart']>;
    readonly chart: ReturnType<BoardPort['chart']>;
  } | null = null;
  return (...asked) => {
    const view = port.view();
    if (last === null || last.view !== view || last.asked.some((one, i) => one !== asked[i]))
      last = { view, asked, chart: port.chart(...asked) };
    return last.chart;
  };
}

/** 24 h clock; the date stands with it in the first minutes after midnight. */
export function clockWords(nowMs: number): string {
  const at = new Date(nowMs);
  const two = (n: number): string => String(n).padStart(2, '0');
  const time = `${two(at.getHours())}:${two(at.getMinutes())}`;
  return at.getHours() === 0 && at.getMinutes() < 5
    ? `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${time}`
    : time;
}
