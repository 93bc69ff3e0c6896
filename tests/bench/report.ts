import { type RunDigest, runDigest } from '../../src/core/views/run-digest.js';
import { handoverHtml } from '../../src/report/handover-html.js';
import { pressHistory } from '../../src/report/history/press-history.js';
import { historyText } from '../../src/report/history-report.js';
import { chartOf } from '../report/charts.js';
import { busyShift } from '../report/shifts.js';
import { reading } from '../support/reading.js';
import { benchReportFromDisk } from './report-from-disk.js';

const CHECKS = 100_000;
const STATIONS = ['2', '3', '4', '5', 'D'];

/** What reports cost, as ratios within one run: the lines to print. */
export async function benchReport(): Promise<string[]> {
  const points = Array.from({ length: CHECKS }, (_, check) => ({
    web_m: check,
    mm: Math.sin(check) / 10,
    check,
    sensor: true,
    withdrawn: false,
    signal: false,
  }));
  const charts = STATIONS.flatMap((station) =>
    (['along', 'across'] as const).map((axis) => ({
      ...chartOf(station, axis, 0.15, false),
      from_m: 0,
      to_m: CHECKS,
      points,
      trend: points,
    })),
  );
  const line = sensorLine();
  const parsing = medianMs(() => {
    for (let count = 0; count < CHECKS; count += 1) JSON.parse(line);
  });
  const drawing = medianMs(() => handoverHtml({ ...busyShift, charts }));

  const digests = Array.from(
    { length: 200 },
    (_, run): RunDigest => ({ ...runDigest(busyShift), run: `run-${run}`, press: run % 3 === 0 ? 'Line B' : 'Line C' }),
  );
  const index = JSON.stringify(digests);
  const reading = medianMs(() => JSON.parse(index));
  const telling = medianMs(() => {
    const read: readonly RunDigest[] = JSON.parse(index);
    historyText(read);
  });
  const counting = medianMs(() => pressHistory(digests));
  return [
    ...(await benchReportFromDisk()),
    `report: HTML with charts of 1,000,000 readings costs ${(drawing / parsing).toFixed(2)} x merely parsing their lines (asked, with folding on both sides: under 0.3 of reading and folding)`,
    `report: history over 200 runs costs ${((reading + counting) / reading).toFixed(2)} x parsing the index (asked: under 2 x reading it); writing it in words adds a cost that does not grow with the runs, ${(telling / reading).toFixed(1)} x parsing 200`,
  ];
}

const sensorLine = (): string =>
  JSON.stringify({
    v: 1,
    seq: 1,
    at: '2026-05-12T04:00:00Z',
    by: 'sensor',
    type: 'check',
    check: 1,
    web_m: 1,
    roll: '1',
    pulled_at: null,
    source: 'sensor',
    place: null,
    readings: STATIONS.map((station) => reading(station, { along_mm: 0.0123, across_mm: -0.0123 })),
  });

function medianMs(work: () => unknown): number {
  const times = Array.from({ length: 7 }, () => {
    const before = performance.now();
    work();
    return performance.now() - before;
  }).sort((a, b) => a - b);
  return times[3] ?? Number.NaN;
}
