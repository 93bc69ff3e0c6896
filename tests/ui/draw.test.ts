import { describe, expect, it } from 'vitest';
import type { BoardView, StationView } from '../../src/core/views/board-view.js';
import type { Todo } from '../../src/core/views/todo.js';
import { turnBig } from '../../src/core/views/todo.js';
import { moveChart } from '../../src/ui/chart-window.js';
import { parsePlate } from '../../src/ui/check/plate-text.js';
import { bigLetters } from '../../src/ui/draw/big-letters.js';
import { dotGrid } from '../../src/ui/draw/braille.js';
import { chartSpan, drawChart } from '../../src/ui/draw/chart.js';
import { columns } from '../../src/ui/draw/columns.js';
import { emphasis } from '../../src/ui/draw/emphasis.js';
import { eventLines, eventPage } from '../../src/ui/draw/events.js';
import { farWords } from '../../src/ui/draw/far.js';
import { ageWords, positionWords } from '../../src/ui/draw/header.js';
import { drawMiddle } from '../../src/ui/draw/instruction.js';
import { placeAlong } from '../../src/ui/draw/place-along.js';
import { plainText, row, spread, widthOf, wrapWords } from '../../src/ui/draw/row.js';
import { drawStrip } from '../../src/ui/draw/strip.js';
import { pairWords } from '../../src/ui/draw/table.js';
import { layout } from '../../src/ui/layout.js';
import { sitDown } from './desk.js';
import {
  chart,
  drifting,
  event,
  move,
  out,
  quiet,
  quietStations,
  referenceMoved,
  station,
  webMoved,
} from './fixtures.js';
import { frameText, look } from './frame-of.js';

const strip = (
  view: BoardView,
  axis: 'along' | 'across' = 'along',
  rows = 9,
  typed: ReadonlyMap<string, number> | null = null,
): readonly string[] => drawStrip(view, axis, { width: 120, rows, gutter: 14 }, look, typed).map(plainText);

const rowWith = (lines: readonly string[], mark: string): number => lines.findIndex((line) => line.includes(mark));

describe('the web strip', () => {
  it('draws ahead up and behind down; across, the operator side down', () => {
    const view = quiet({
      stations: quietStations().map((one) =>
        one.id === '4'
          ? {
              ...one,
              axes: { along: { ...one.axes.along, last_mm: 0.12 }, across: { ...one.axes.across, last_mm: 0.12 } },
            }
          : one,
      ),
    });
    const x = columns(view, 14, 120)[3]?.x ?? 0;
    const height = (lines: readonly string[]): number => lines.findIndex((line) => line[x] === '●');
    expect(height(strip(view))).toBeLessThan(4);
    expect(height(strip(view, 'across'))).toBeGreaterThan(4);
  });

  it('shows its limits whole in every unit: the word gives way to the number, never a digit', () => {
    for (const register of ['mm', 'in', 'thou', '64ths'] as const)
      for (const axis of ['along', 'across'] as const) {
        const view = quiet({ units: { register, length: 'ft' } });
        const gutters = drawStrip(view, axis, { width: 80, gutter: 14, rows: 5 }, look).map((line) =>
          plainText(line).slice(0, 13),
        );
        const limit = { mm: '0.15', in: '0.0059', thou: '5.9', '64ths': '24.2/64' }[register].replace(
          '24.2/64',
          '0.4/64',
        );
        expect(
          gutters.filter((one) => one.endsWith(` ${limit}`)),
          gutters.join('|'),
        ).toHaveLength(2);
      }
  });

  it('never draws a reading on the wrong side of its own tolerance line', () => {
    for (const rows of [5, 7, 9, 11]) {
      for (const mm of [0.149, 0.151, -0.149, -0.151, 0.09, -0.2, 0.5]) {
        const view = quiet({
          stations: quietStations().map((one) =>
            one.id === '5'
              ? { ...one, axes: { ...one.axes, along: { ...one.axes.along, last_mm: mm, next: null } } }
              : one,
          ),
        });
        const lines = strip(view, 'along', rows);
        const x = columns(view, 14, 120)[4]?.x ?? 0;
        const mark = lines.findIndex((line) => line[x] === '●');
        const limits = lines.flatMap((line, y) => (line[x - 1] === '╌' || line[x + 1] === '╌' ? [y] : []));
        const [top = 0, bottom = 0] = [Math.min(...limits), Math.max(...limits)];
        if (mm > 0.15) expect(mark, `${mm} in ${rows} rows`).toBeLessThan(top);
        else if (mm < -0.15) expect(mark, `${mm} in ${rows} rows`).toBeGreaterThan(bottom);
        else {
          expect(mark, `${mm} in ${rows} rows`).toBeGreaterThan(top);
          expect(mark, `${mm} in ${rows} rows`).toBeLessThan(bottom);
        }
      }
    }
  });

  it('tells reference, die, pairs that trap and plain stations apart by shape', () => {
    const text = strip(quiet()).join('');
    for (const mark of ['■', '◆', '◐', '◑', '●', '○', '·']) expect(text).toContain(mark);
  });

  it('a tolerance wider than the strip is written on the line of the others, and drawn against', () => {
    expect(strip(quiet()).join('\n')).toContain('0.40');
  });

  it('shows the movement as it lies along the press: a peak, a plateau, a slope', () => {
    const dots = (view: BoardView): readonly number[] => {
      const lines = strip(view);
      return lines.flatMap((line, y) => [...line].flatMap((char) => (char === '∙' ? [y] : [])));
    };
    expect(Math.max(...dots(drifting()))).toBeLessThan(4);
    expect(Math.min(...dots(referenceMoved()))).toBeGreaterThan(4);
    const slope = strip(webMoved()).flatMap((line, y) =>
      [...line].flatMap((char, x) => (char === '∙' ? [{ x, y }] : [])),
    );
    const left = slope.filter((one) => one.x < 70).map((one) => one.y);
    const right = slope.filter((one) => one.x > 100).map((one) => one.y);
    expect(Math.max(...right)).toBeGreaterThan(Math.max(...left));
  });

  it('moves with what is typed, and hides the forecast meanwhile', () => {
    const lines = strip(quiet(), 'along', 9, new Map([['5', -0.14]]));
    const x = columns(quiet(), 14, 120)[4]?.x ?? 0;
    expect(lines.findIndex((line) => line[x] === '●')).toBeGreaterThan(4);
    expect(lines.join('')).not.toContain('○');
  });

  it('stands with one station, with none, and with readings far off', () => {
    const one = quiet({ stations: [station({ id: '1', label: '1 black', is_reference: true })] });
    expect(rowWith(strip(one), '■')).toBe(4);
    expect(strip(quiet({ stations: [] })).length).toBe(9);
    const far = quiet({
      stations: quietStations().map((s) =>
        s.id === '2' ? { ...s, axes: { ...s.axes, along: { ...s.axes.along, last_mm: 50 } } } : s,
      ),
    });
    expect(strip(far)[0]).toContain('▲◐');
  });

  it('runs the other way where the web runs right to left', () => {
    const x = (view: BoardView): readonly number[] => columns(view, 14, 120).map((one) => one.x);
    const mirrored = x(quiet({ web_runs: 'right-to-left' }));
    expect([...mirrored].sort((a, b) => b - a)).toEqual(mirrored);
  });
});

describe('columns', () => {
  it('stand at their place along the path, never closer than their words', () => {
    for (const width of [80, 120, 143]) {
      const all = columns(quiet(), 14, width);
      all.slice(1).forEach((one, i) => {
        const before = all[i];
        expect(one.left).toBeGreaterThanOrEqual((before?.left ?? 0) + (before?.width ?? 0));
        expect(Number.isInteger(one.left) && Number.isInteger(one.width)).toBe(true);
      });
      expect((all[6]?.left ?? 0) + (all[6]?.width ?? 0)).toBeLessThanOrEqual(width);
    }
  });

  it('hold with fourteen stations in 80 columns', () => {
    const many = Array.from({ length: 14 }, (_, i) => station({ id: String(i), label: `${i} ink`, at_m: 1 + i * 1.2 }));
    const all = columns({ stations: many, web_runs: 'left-to-right' }, 14, 80);
    expect(all.length).toBe(14);
    for (const one of all) expect(one.x).toBeLessThan(80);
  });
});

describe('the chart', () => {
  const draw = (
    rows: number,
    over: Partial<ReturnType<typeof chart>> = {},
    by: 'web' | 'roll' = 'web',
  ): readonly string[] =>
    drawChart(
      { ...chart(), ...over },
      { width: 100, rows, gutter: 8 },
      { register: 'mm', length: 'm', repeat_mm: 304.8 },
      by,
      look,
    ).map(plainText);

  it.each([1, 2, 3, 5, 8, 20])('has exactly %i rows of at most its width', (rows) => {
    const lines = draw(rows);
    expect(lines.length).toBe(rows);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(100);
  });

  it('labels aim and tolerance, and shows signal, withdrawn, knob, wash, stop, speed, rolls, began and cone', () => {
    const text = draw(12).join('\n');
    for (const one of ['+0.15', '0.00', '-0.15', '◉', '◌', '▲', '≈', '×', '»', '╎', '┊', '░'])
      expect(text).toContain(one);
  });

  it('says so when there is no reading', () => {
    expect(draw(8, { points: [], trend: [], cone: [] }).join('')).toContain('no reading yet');
  });

  it('draws only what is in the window', () => {
    const lines = draw(8, { from_m: 100_000, to_m: 101_000 });
    expect(lines.join('')).not.toMatch(/[•◉▲]/);
  });

  it('by roll, every finished roll is equally wide', () => {
    const place = placeAlong(
      {
        from_m: 0,
        to_m: 3000,
        rolls: [
          { web_m: 100, roll: '1', kind: 'finished' },
          { web_m: 2900, roll: '2', kind: 'finished' },
        ],
      },
      'roll',
      91,
    );
    expect(place.column(100)).toBeCloseTo(30, 9);
    expect(place.column(2900)).toBeCloseTo(60, 9);
    expect(place.rolls.map((one) => one.name)).toEqual(['1', '2', 'now']);
    expect(draw(8, {}, 'roll').at(-1)).toContain('now');
  });

  it('holds without a tolerance, with all readings alike, and with a window of no length', () => {
    expect(chartSpan({ ...chart(), tolerance_mm: Number.POSITIVE_INFINITY, points: [] })).toBe(0.01);
    expect(draw(8, { points: chart().points.map((one) => ({ ...one, mm: 0 })) }).length).toBe(8);
    expect(draw(8, { from_m: 5000, to_m: 5000 }).length).toBe(8);
  });
});

describe('the stretch a chart shows', () => {
  it('zooms to the end, scrolls back, and comes home', () => {
    const close = moveChart(null, 'zoom-in', 20_000);
    expect(close).toEqual({ from_m: 10_000, to_m: 20_000 });
    const closer = moveChart(close, 'zoom-in', 20_000);
    expect(closer).toEqual({ from_m: 15_000, to_m: 20_000 });
    expect(moveChart(closer, 'earlier', 20_000)).toEqual({ from_m: 12_500, to_m: 17_500 });
    expect(moveChart(moveChart(closer, 'earlier', 20_000), 'later', 20_000)).toEqual(closer);
    expect(moveChart(close, 'zoom-out', 20_000)).toBeNull();
    expect(moveChart(closer, 'whole', 20_000)).toBeNull();
  });

  it('never shows less than 200 m and never leaves the run', () => {
    let window = moveChart(null, 'zoom-in', 20_000);
    for (let i = 0; i < 40; i += 1) window = moveChart(window, 'zoom-in', 20_000);
    expect(window).toEqual({ from_m: 19_800, to_m: 20_000 });
    for (let i = 0; i < 1000; i += 1) window = moveChart(window, 'earlier', 20_000);
    expect(window).toEqual({ from_m: 0, to_m: 200 });
  });
});

describe('what to do now', () => {
  const lines = (view: BoardView, rows: number, width = 80): readonly string[] =>
    drawMiddle(view, width, rows, look).map(plainText);

  it('when calm, one line says so and nothing asks for attention', () => {
    expect(lines(quiet(), 5).filter((one) => one.trim() !== '')[0]).toContain('All holding. Leave every knob alone.');
  });

  it.each([2, 3, 4, 5, 6, 8])('in %i rows what to turn and how long until it is out stand', (rows) => {
    const text = lines(drifting(), rows).join('\n');
    expect(text).toContain('RETARD 4 grey 2 divisions (0.10 mm)');
    expect(text).toContain('Out in about 1 950 m, 17 min');
    expect(lines(drifting(), rows).length).toBeLessThanOrEqual(rows);
  });

  it('safety words stand until the movement has been seen, and then make room', () => {
    const view = drifting();
    expect(lines(view, 6).join('\n')).toContain('Hands out of the press');
    const seen = { ...view, events: view.events.map((one) => ({ ...one, seen: true })) };
    expect(lines(seen, 6).join('\n')).not.toContain('Hands out of the press');
  });

  it('says from which counter a sample tells, as the press shows it', () => {
    expect(
      lines({ ...drifting(), position: { ...drifting().position, counter_minus_web_m: 100 } }, 8).join('\n'),
    ).toContain('A sample tells from 21 557 m on.');
  });

  it('is one list: every line whole in what and how much, and how many more there are where it is longer than the room', () => {
    const view = drifting();
    const line = (n: number): Todo => ({
      kind: 'turn',
      urgency: 'act',
      head: `RETARD ${n} warm grey with a name 12 divisions (0.60 mm)`,
      tail: ': knob anticlockwise, marked "advance", at a stop',
      big: '',
      why: '',
      move: move({ station: String(n) }),
      event: 1,
      station: String(n),
    });
    const text = lines({ ...view, todo: [2, 3, 4, 5, 6].map(line) }, 5);
    for (const n of [2, 3, 4]) expect(text.join('\n')).toContain(line(n).head);
    expect(text.join('\n')).toContain('and 2 more: i');
    for (const one of text) expect(one.length).toBeLessThanOrEqual(80);
    expect(text.join('\n')).not.toMatch(/marked "adv[^a-z]/);
    // i shows the rest of it.
    const page = eventPage({ ...view, todo: [2, 3, 4, 5, 6].map(line) }, 80);
    expect(page[0]).toBe('WHAT TO DO');
    for (const n of [2, 3, 4, 5, 6]) expect(page.join('\n')).toContain(line(n).head);
  });

  it('says what moved in fewer words where there is no room, and cuts none', () => {
    for (const width of [60, 70, 80, 120])
      for (const view of [drifting(), referenceMoved(), webMoved(), out()])
        expect(lines(view, 1, width).join('\n')).not.toMatch(/\.\.\.|…/);
  });

  it('how long until it is out always has room, with fewer words before it', () => {
    for (const width of [60, 80, 120]) expect(lines(drifting(), 3, width)[0]).toMatch(/ {2}Out in .*17 min$/);
  });
});

describe('far view', () => {
  it.each([
    ['quiet', quiet(), 'HOLDING CHECK 620 m'],
    ['one to turn', drifting(), 'RETARD 4 grey 2 divisions'],
    ['out', out(), 'OUT: RETARD 4 grey 4 divisions'],
    ['web', webMoved(), 'WATCH CHECK 620 m'],
    ['overdue', quiet({ next_check: { why: 'metres', in_m: -50, in_min: null, overdue: true } }), 'CHECK OVERDUE'],
    ['stopped', quiet({ phase: 'stopped' }), 'STOPPED'],
    ['settling', quiet({ phase: 'settling', settle_until_m: 21_500 }), 'LOOK, DO NOT TURN'],
    ['ended', quiet({ phase: 'ended' }), 'RUN ENDED'],
  ])('%s', (_name, view, words) => {
    expect(farWords(view)).toBe(words);
  });

  it('says teeth and stop, a wash and an overdue check beside it', () => {
    const it_ = (todo: Partial<Todo>): Todo => ({ ...(drifting().todo[0] as Todo), move: null, ...todo });
    const turn = move({ teeth: 3, divisions: 1, when: 'stop' });
    const big = turnBig(turn, { label: '4 grey', word: 'divisions', sense: 1, tooth_mm: 3.175 }, 'mm');
    const wash = it_({ kind: 'wash', big: 'wash 5 black' });
    const check = it_({ kind: 'check', big: 'check overdue' });
    expect(farWords({ ...drifting(), todo: [it_({ big }), wash, check] })).toBe(
      'RETARD 4 grey 3 teeth, 1 division at a stop + wash 5 black + CHECK OVERDUE',
    );
  });

  it('takes the largest letters that fit, and never overruns its box', () => {
    const box = { width: 78, rows: 20 };
    expect(bigLetters('OUT', box, look).length).toBe(14);
    for (const words of [
      'OUT',
      'RETARD 4 GREY 2',
      'retard 1 opaque white 12 teeth 3 at a stop + 4',
      'X'.repeat(40),
      '',
    ]) {
      for (const look_ of [look, { ...look, ascii: true }]) {
        const lines = bigLetters(words, box, look_);
        expect(lines.length).toBeLessThanOrEqual(20);
        for (const line of lines) expect(line.length).toBeLessThanOrEqual(78);
      }
    }
  });

  it('every letter of every word the board says is drawn', () => {
    for (const char of 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789+:')
      expect(bigLetters(char, { width: 20, rows: 9 }, look).join('').trim()).not.toBe('');
  });
});

describe('the list of what moved', () => {
  const text = (over: Partial<BoardView['events'][number]>): string =>
    eventLines(quiet({ events: [event(over)] }), 100)
      .join(' ')
      .replaceAll(/\s+/g, ' ');

  it('tells state, age, how sure in figures, and when the limit is reached', () => {
    const told = text({ seen: true, done: ['4 grey retarded 0.10 mm; it took'] });
    for (const part of [
      'act, seen',
      'began 3 900 m ago',
      'likely (83 %)',
      'out before the next check 34 %',
      'at the limit about 23 400 m, at the earliest 22 300 m',
      '- 4 grey retarded 0.10 mm; it took',
    ])
      expect(told).toContain(part);
    expect(text({ reach: { likely_m: 23_400, early_m: 22_300, late_m: 25_000 } })).toContain('at the latest 25 000 m');
  });

  it('is never surer than it can be', () => {
    expect(text({ confidence: 0.9999, out_before_next_check: 0.0001 })).toContain(
      '(over 99 %); out before the next check under 1 %',
    );
  });

  it('says how a closed one ended, and that nothing moved when nothing did', () => {
    expect(text({ open: false, how_closed: 'recovered' })).toContain('recovered 4 grey');
    expect(eventLines(quiet(), 80).join('\n')).toContain('Nothing has moved so far.');
  });
});

describe('how loud a state is', () => {
  it('out always; moved and drifting only while a hand is asked for', () => {
    expect(emphasis(quiet(), '4', 'along', 'out')).toBe('out');
    expect(emphasis(quiet(), '4', 'along', 'holding')).toBe('plain');
    expect(emphasis(drifting(), '4', 'along', 'drifting')).toBe('act');
    expect(emphasis(drifting(), '4', 'across', 'drifting')).toBe('strong');
    expect(emphasis(webMoved(), '4', 'along', 'moved')).toBe('strong');
  });
});

describe('while a page is read', () => {
  it('what asks for a hand stays in sight; a calm board leaves the page alone', async () => {
    for (const key of ['h', '?', 'i']) {
      const alarmed = sitDown(out());
      await alarmed.keys(key);
      expect(alarmed.see().split('\n').at(-2)).toContain('4 grey is drifting ahead');
      const calmly = sitDown(quiet());
      await calmly.keys(key);
      expect(calmly.see().split('\n').at(-2)?.trim()).toBe('');
    }
  });
});

describe('a terminal too small', () => {
  it.each([
    [60, 15],
    [30, 8],
    [10, 3],
    [1, 1],
  ])('%i by %i: the instruction, or what is being keyed', async (columns_, rows) => {
    const desk = sitDown(drifting());
    const roomy = columns_ >= 60;
    if (roomy) expect(desk.see(columns_, rows)).toContain('RETARD 4 grey 2 divisions');
    await desk.keys('k');
    if (roomy) expect(desk.see(columns_, rows)).toContain('You RETARDED 4 grey');
    await desk.keys('[esc]c5A');
    if (roomy) expect(desk.see(columns_, rows)).toContain('0.05 AHEAD');
    expect(desk.see(columns_, rows).split('\n').length).toBeLessThanOrEqual(rows);
  });
});

describe('small pieces', () => {
  it('braille bits are those of the Unicode block', () => {
    const grid = dotGrid(1, 1);
    grid.set(0, 0);
    expect(grid.cell(0, 0)).toBe('⠁');
    grid.set(1, 3);
    expect(grid.cell(0, 0)).toBe('⢁');
    grid.set(5, 5);
    expect(grid.cell(0, 0)).toBe('⢁');
  });

  it('words wrap, and a word longer than the line is cut', () => {
    expect(wrapWords('leave the others alone', 10)).toEqual(['leave the', 'others', 'alone']);
    expect(wrapWords('abcdefgh', 3)).toEqual(['abc', 'def', 'gh']);
    expect(wrapWords('', 10)).toEqual([]);
    expect(wrapWords('since 22 500 m', 11)).toEqual(['since', '22 500 m']);
  });

  it('a row of two ends keeps the left one when there is no room', () => {
    expect(plainText(spread(row('left'), row('right'), 12))).toBe('left   right');
    expect(plainText(spread(row('left'), row('right'), 8))).toBe('left');
    expect(widthOf(spread(row('left'), row('right'), 3))).toBe(3);
  });

  it('ages in the coarsest words that help', () => {
    expect([0, 95, 119, 120, 3600, 7200].map(ageWords)).toEqual(['0 s', '95 s', '119 s', '2 min', '60 min', '2 h']);
  });

  it('a position is estimated with its age, keyed, or asked for', () => {
    expect(positionWords(quiet())).toBe('21 450 m est. 95 s');
    expect(positionWords(quiet({ position: { ...quiet().position, web_m: null } }))).toBe('counter not keyed');
    expect(positionWords(quiet({ position: { ...quiet().position, speed_m_min: null } }))).toContain(
      'speed not keyed: v',
    );
    expect(positionWords(quiet({ units: { register: 'thou', length: 'ft' } }))).toContain('ft');
    // The press counter was not 0 at OK to run: its value, as everywhere else.
    expect(positionWords(quiet({ position: { ...quiet().position, counter_minus_web_m: 1480 } }))).toBe(
      '22 930 m est. 95 s',
    );
  });

  it('a pair is told in words', () => {
    expect(pairWords(quiet(), 'along')).toEqual(['2 plum traps 3 leaf: 0.03 apart, 0.12 allowed']);
  });

  it.each([
    ['c', { grade: 'clean', flaws: null, labels: null }],
    ['b 3/40', { grade: 'building', flaws: 3, labels: 40 }],
    ['0/50', { grade: null, flaws: 0, labels: 50 }],
    ['', { grade: null, flaws: null, labels: null }],
  ])('plate %j', (text, value) => {
    expect(parsePlate(text)).toEqual({ ok: true, value });
  });

  it.each(['3', '3/0', 'q', 'c/'])('plate %j is refused', (text) => {
    expect(parsePlate(text).ok).toBe(false);
  });

  it.each([
    [80, 24],
    [80, 29],
    [100, 30],
    [120, 37],
    [120, 40],
    [160, 51],
    [200, 60],
    [300, 100],
  ])('the layout of %i by %i uses every row', (columns_, rows) => {
    const plan = layout(columns_, rows);
    if (plan === null) throw new Error('no layout');
    const used =
      2 +
      1 +
      plan.strip +
      plan.across +
      5 +
      plan.pairs +
      1 +
      plan.instruction +
      1 +
      plan.chart +
      plan.keys +
      (plan.rules ? 2 : 0);
    expect(used).toBe(rows);
    // At the least size the list and the across strip have the rows of the chart.
    expect(plan.chart).toBeGreaterThanOrEqual(rows < 30 ? 0 : 3);
    expect(plan.strip % 2).toBe(1);
  });

  it('there is no layout below 80 by 24', () => {
    expect(layout(79, 24)).toBeNull();
    expect(layout(80, 23)).toBeNull();
  });
});

describe('plates', () => {
  const black = (plate: Partial<StationView['plate']>): BoardView => {
    const view = quiet();
    return {
      ...view,
      stations: view.stations.map((one) => (one.id === '5' ? { ...one, plate: { ...one.plate, ...plate } } : one)),
    };
  };
  const plateLine = (view: BoardView): string =>
    frameText(view, 80, 24)
      .split('\n')
      .find((line) => line.startsWith('plate')) ?? '';

  it('washed and not seen since: the grade of before does not stand there any more', () => {
    expect(plateLine(black({ grade: 'dirty', washed: { seen: false, words: '' } }))).toMatch(/washed/);
    expect(plateLine(black({ grade: 'dirty', flag: 'dirty', washed: { seen: true, words: '' } }))).toMatch(/DIRTY/);
    expect(plateLine(black({ grade: 'clean', washed: { seen: true, words: '' } }))).not.toMatch(/washed|DIRTY/);
  });
  it('a plate to be washed is what the far view says', () => {
    const view = black({ grade: 'dirty', flag: 'dirty' });
    const wash: Todo = { ...(view.todo[0] as Todo), kind: 'wash', urgency: 'act', big: 'wash 5 black' };
    expect(farWords({ ...view, todo: [wash] })).toBe('wash 5 black');
    expect(farWords({ ...view, todo: [{ ...wash, kind: 'plate', urgency: 'note' }] })).toMatch(/^WATCH/);
  });
});
