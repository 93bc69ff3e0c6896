import type { Axis, PerAxis } from '../axis.js';
import type { CorrectionFinding } from '../finding.js';
import { printedAt } from '../web.js';
import { knobGave } from './knob-gave.js';
import type { Levels, PerAxisLevels } from './levels.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Turned } from './state.js';

/** What scatter the readings of an axis have, mm: of one reading, and the share of its variance that all share through the reference. */
export type ReadingScatter = { readonly sigma_mm: number; readonly share_of_reference: number };

/**
 * Which corrections this check is the first to show, and what each really moved: the reading now less where the station stood before.
 * A move of the reference is read off all stations together. Several moves of one station seen first by the same sample share what was
 * got in proportion; what moves of other stations did to a reading is taken as turned.
 */
export const readResults = (
  seen: SeenCheck,
  judged: Pick<Judged, 'turns' | 'reference'>,
  /** Where each station would be, had nothing been turned; asked for only when a move is first shown. */
  expected: () => PerAxisLevels,
  scatter: PerAxis<ReadingScatter>,
): readonly Turned[] => {
  const { stations, check, place_m } = seen;
  const shown = judged.turns.filter((turn) => {
    const station = stations.find((s) => s.id === turn.station);
    // What was turned in make-ready was judged by the sample that was passed.
    if (seen.before.ok !== null && turn.web_m < seen.before.ok.web_m) return false;
    return turn.result === null && station !== undefined && turn.web_m <= printedAt(check.web_m, place_m, station.at_m);
  });
  if (shown.length === 0) return judged.turns;
  const told = new Map<number, { readonly finding: CorrectionFinding; readonly sd: number }>();
  for (const turn of shown) {
    if (told.has(turn.seq)) continue;
    const { station, axis } = turn;
    const together = shown.filter((t) => t.station === station && t.axis === axis);
    const asked = together.reduce((sum, t) => sum + t.move_mm, 0);
    const others = shown.filter((t) => t.axis === axis && t.station !== station);
    const got = gotOf(seen, judged.reference, turn, asked, others, expected()[axis], scatter[axis]);
    if (got === null) continue;
    for (const t of together) {
      const got_mm = asked === 0 ? got.mm / together.length : got.mm * (t.move_mm / asked);
      told.set(t.seq, {
        finding: { type: 'correction', event: null, took: got.took, station, axis, asked_mm: t.move_mm, got_mm },
        sd: got.sd,
      });
    }
  }
  return judged.turns.map((t) => {
    const now = told.get(t.seq);
    return now === undefined ? t : { ...t, result: now.finding, got_sd_mm: now.sd };
  });
};

type Got = { readonly mm: number; readonly sd: number; readonly took: boolean };

const gotOf = (
  { before, measured }: SeenCheck,
  reference: string,
  turn: Turned,
  asked: number,
  others: readonly Turned[],
  levels: Levels,
  scatter: ReadingScatter,
): Got | null => {
  const ofReference = turn.station === reference;
  const alsoTurned = (id: string): number =>
    others.reduce((sum, t) => sum + (t.station === id ? t.move_mm : t.station === reference ? -t.move_mm : 0), 0);
  const read = measured.flatMap((m) => {
    const mm = m.mm[turn.axis];
    if (mm === null || (!ofReference && m.station !== turn.station)) return [];
    const level = levels[m.station] ?? null;
    const last = lastRead(before, m.station, turn.axis);
    return [
      {
        now: mm - alsoTurned(m.station),
        level: level?.mean_mm ?? last ?? 0,
        sd: level?.sd_mm ?? scatter.sigma_mm,
        last,
      },
    ];
  });
  if (read.length === 0) return null;
  const mean = (of: (r: (typeof read)[number]) => number): number =>
    read.reduce((sum, r) => sum + of(r), 0) / read.length;
  const share = scatter.share_of_reference;
  const gave = knobGave({
    now_mm: mean((r) => r.now),
    sent_mm: ofReference ? -asked : asked,
    level: { mm: mean((r) => r.level), sd: Math.sqrt(mean((r) => r.sd ** 2) * (share + (1 - share) / read.length)) },
    last_mm: read.every((r) => r.last !== null) ? mean((r) => r.last ?? 0) : null,
    reading_sd_mm: scatter.sigma_mm * Math.sqrt(share + (1 - share) / read.length),
  });
  return { mm: ofReference ? -gave.got_mm : gave.got_mm, sd: gave.sd_mm, took: gave.took };
};

const lastRead = (before: Judged, station: string, axis: Axis): number | null =>
  before.read[station]?.[axis].mm ?? null;
