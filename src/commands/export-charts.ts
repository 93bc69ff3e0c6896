import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Axis } from '../core/axis.js';
import { placesOf } from '../core/views/at-counter.js';
import type { ChartView } from '../core/views/chart-view.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { plainWords } from '../report/plain-words.js';
import { chartSvg } from '../report/svg/chart-svg.js';
import { handoverOf } from '../runtime/handover-of.js';
import { BAD, type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { withProgress } from './with-progress.js';

export type ChartsWanted = {
  /** One station's chart, to stdout. */
  readonly station?: string;
  readonly axis?: string;
  /** Every chart with readings, a file each, into this folder. */
  readonly out?: string;
};

/** Charts of the whole run as SVG: one to stdout, or all into a folder. Files that are there are not written over. */
export const exportCharts = async (folder: string, wanted: ChartsWanted, io: Io): Promise<Exit> => {
  const { station, out } = wanted;
  if ((station === undefined) === (out === undefined))
    return refuse(io, 'charts: say --station ID for one chart, or --out FOLDER for all of them', BAD);
  const axis: Axis | null = wanted.axis === 'along' || wanted.axis === 'across' ? wanted.axis : null;
  if (wanted.axis !== undefined && axis === null)
    return refuse(io, `--axis "${wanted.axis}" is neither along nor across`, BAD);
  const view = await withProgress(io, (progress) => handoverOf(folder, Date.now(), { since: null, progress }));
  if (!view.ok) return refuse(io, view.problem.message, MACHINE);
  const charts = (view.value.charts ?? []).filter((chart) => axis === null || chart.axis === axis);
  return station === undefined
    ? writeAll(view.value, charts, out ?? '', io)
    : printOne(view.value, charts, station, axis ?? 'along', io);
};

const printOne = (view: HandoverView, charts: readonly ChartView[], station: string, axis: Axis, io: Io): Exit => {
  const chart = charts.find((c) => c.station.toLowerCase() === station.toLowerCase() && c.axis === axis);
  if (chart === undefined) {
    const known = [...new Set(charts.map((c) => c.station))];
    return refuse(io, `there is no chart of station "${station}"; measured are ${known.join(', ')}`, BAD);
  }
  io.out(svgOf(view, chart));
  return OK;
};

const writeAll = (view: HandoverView, charts: readonly ChartView[], out: string, io: Io): Exit => {
  const read = charts.filter((chart) => chart.points.length > 0);
  if (read.length === 0) return refuse(io, 'no station has a reading yet; nothing was written', NO);
  try {
    mkdirSync(out, { recursive: true });
    for (const [index, chart] of read.entries()) {
      const file = join(out, fileName(chart, index));
      writeFileSync(file, svgOf(view, chart), { flag: 'wx' });
      io.out(`${file}\n`);
    }
    return OK;
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    const path = error instanceof Error && 'path' in error ? String(error.path) : out;
    return code === 'EEXIST'
      ? refuse(io, `${path} is there already; nothing is written over: take it away or choose another folder`, BAD)
      : refuse(io, `cannot write ${path}: ${code}`, MACHINE);
  }
};

const svgOf = (view: HandoverView, chart: ChartView): string => {
  const { units, stations } = view.board;
  const label = plainWords(stations.find((s) => s.id === chart.station)?.label ?? chart.station);
  return `${chartSvg(chart, { ...placesOf(view.board), register: units.register, label })}\n`;
};

/** Stations may be called anything; a file name is letters, digits and dashes. */
const fileName = ({ station, axis }: ChartView, index: number): string =>
  `${String(index + 1).padStart(2, '0')}-station-${station.replace(/[^A-Za-z0-9]+/g, '-').slice(0, 40)}-${axis}.svg`;
