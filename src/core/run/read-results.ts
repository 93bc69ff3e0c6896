import type { CorrectionFinding } from '../finding.js';
import type { Press } from '../press.js';
import type { Check } from '../record.js';
import { printedAt, samplePlace } from '../web.js';
import type { Levels, PerAxisLevels } from './advise.js';
import type { Measured } from './measured.js';
import type { Judged, Turned } from './state.js';
import type { Station } from './stations.js';

/** What scatter the readings of an axis have, mm: of one reading, and the share of its variance that all share through the reference. */
export type ReadingScatter = { readonly sigma_mm: number; readonly share_of_reference: number };

/** Odds that evidence against a move must reach before it is said not to have taken. */
const AGAINST = 3;

/**
 * Which corrections this check is the first to show, and what each really moved: the reading now less the level before. Several moves of
 * one station seen first by the same sample share what was got in proportion. A move took unless the reading is at least three times
 * likelier with no move than with the move as turned: one reading cannot prove a small move, but it can speak against one.
 */
export const readResults = (
  press: Press,
  judged: Judged,
  stations: readonly Station[],
  check: Pick<Check, 'web_m' | 'place' | 'source'>,
  measured: readonly Measured[],
  before: PerAxisLevels,
  scatter: Readonly<Record<'along' | 'across', ReadingScatter>>,
): readonly Turned[] => {
  const place_m = samplePlace(press, check.source, check.place) ?? press.sample_m;
  const shown = (turn: Turned): boolean => {
    const station = stations.find((s) => s.id === turn.station);
    return turn.result === null && station !== undefined && turn.web_m <= printedAt(check.web_m, place_m, station.at_m);
  };
  const told = new Map<number, CorrectionFinding>();
  for (const turn of judged.turns) {
    if (told.has(turn.seq) || !shown(turn)) continue;
    const together = judged.turns.filter((t) => t.station === turn.station && t.axis === turn.axis && shown(t));
    const others = judged.turns.filter((t) => t.axis === turn.axis && t.station !== turn.station && shown(t));
    const asked = together.reduce((sum, t) => sum + t.move_mm, 0);
    const got = gotOf(turn, asked, judged, measured, before[turn.axis], scatter[turn.axis], others);
    if (got === null) continue;
    for (const t of together) {
      const share = asked === 0 ? 1 / together.length : t.move_mm / asked;
      told.set(t.seq, {
        type: 'correction',
        event: null,
        took: got.took,
        station: t.station,
        axis: t.axis,
        asked_mm: t.move_mm,
        got_mm: got.mm * share,
      });
    }
  }
  return told.size === 0 ? judged.turns : judged.turns.map((t) => ({ ...t, result: told.get(t.seq) ?? t.result }));
};

const gotOf = (
  turn: Turned,
  asked: number,
  judged: Judged,
  measured: readonly Measured[],
  before: Levels,
  scatter: ReadingScatter,
  others: readonly Turned[],
): { readonly mm: number; readonly took: boolean } | null => {
  const { axis } = turn;
  const ofReference = turn.station === judged.reference;
  // What other moves seen first by this sample did to a reading is taken as turned.
  const alsoTurned = (id: string): number =>
    others.reduce(
      (sum, t) => sum + (t.station === id ? t.move_mm : t.station === judged.reference ? -t.move_mm : 0),
      0,
    );
  const changes = measured.flatMap((m) => {
    const mm = m.mm[axis];
    if (mm === null || (!ofReference && m.station !== turn.station)) return [];
    const level = before[m.station];
    return [{ change: mm - (level?.mean_mm ?? 0) - alsoTurned(m.station), sd: level?.sd_mm ?? scatter.sigma_mm }];
  });
  if (changes.length === 0) return null;
  const mean = changes.reduce((sum, c) => sum + c.change, 0) / changes.length;
  const mm = ofReference ? -mean : mean;
  const share = scatter.share_of_reference;
  const reading = scatter.sigma_mm ** 2 * (share + (1 - share) / changes.length);
  const levels = changes.reduce((sum, c) => sum + c.sd ** 2, 0) / changes.length ** 2;
  const variance = Math.max(reading + levels, 1e-12);
  const against = (asked * asked - 2 * asked * mm) / (2 * variance);
  return { mm, took: against < Math.log(AGAINST) };
};
