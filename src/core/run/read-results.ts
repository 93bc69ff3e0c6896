import type { PerAxis } from '../axis.js';
import type { CorrectionFinding } from '../finding.js';
import { printedAt } from '../web.js';
import type { Levels, PerAxisLevels } from './advise.js';
import type { Measured } from './measured.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Turned } from './state.js';

/** What scatter the readings of an axis have, mm: of one reading, and the share of its variance that all share through the reference. */
export type ReadingScatter = { readonly sigma_mm: number; readonly share_of_reference: number };

/** Odds that evidence against a move must reach before it is said not to have taken. */
const AGAINST = 3;

/** A reading this many sigmas from the level before it may have been a step (or a misreading) that the level has not followed yet. */
const SUDDEN = 2.5;
/** What a knob gives of what was asked: nearly always about all of it, now and then nothing (common practice, no source). */
const KNOB_ERROR = 0.1;
const KNOB_DEAD = 0.05;

/**
 * Which corrections this check is the first to show, and what each really moved: the reading now less the level before. Several moves of
 * one station seen first by the same sample share what was got in proportion. A move took unless the reading is at least three times
 * likelier with no move than with the move as turned: one reading cannot prove a small move, but it can speak against one.
 */
export const readResults = (
  { before, stations, check, measured, place_m }: SeenCheck,
  judged: Pick<Judged, 'turns' | 'reference'>,
  /** Where each station would be, had nothing been turned; asked for only when a move is first shown. */
  expected: () => PerAxisLevels,
  scatter: PerAxis<ReadingScatter>,
): readonly Turned[] => {
  const shown = (turn: Turned): boolean => {
    const station = stations.find((s) => s.id === turn.station);
    return turn.result === null && station !== undefined && turn.web_m <= printedAt(check.web_m, place_m, station.at_m);
  };
  const told = new Map<number, { readonly finding: CorrectionFinding; readonly sd: number }>();
  for (const turn of judged.turns) {
    if (told.has(turn.seq) || !shown(turn)) continue;
    const together = judged.turns.filter((t) => t.station === turn.station && t.axis === turn.axis && shown(t));
    const others = judged.turns.filter((t) => t.axis === turn.axis && t.station !== turn.station && shown(t));
    const asked = together.reduce((sum, t) => sum + t.move_mm, 0);
    const got = gotOf(turn, asked, judged, measured, expected()[turn.axis], before.read, scatter[turn.axis], others);
    if (got === null) continue;
    for (const t of together) {
      const share = asked === 0 ? 1 / together.length : t.move_mm / asked;
      const finding: CorrectionFinding = {
        type: 'correction',
        event: null,
        took: got.took,
        station: t.station,
        axis: t.axis,
        asked_mm: t.move_mm,
        got_mm: got.mm * share,
      };
      told.set(t.seq, { finding, sd: got.sd });
    }
  }
  if (told.size === 0) return judged.turns;
  return judged.turns.map((t) => {
    const now = told.get(t.seq);
    return now === undefined ? t : { ...t, result: now.finding, got_sd_mm: now.sd };
  });
};

const gotOf = (
  turn: Turned,
  asked: number,
  judged: Pick<Judged, 'reference'>,
  measured: readonly Measured[],
  before: Levels,
  lastRead: Judged['read'],
  scatter: ReadingScatter,
  others: readonly Turned[],
): { readonly mm: number; readonly sd: number; readonly took: boolean } | null => {
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
    const now_mm = mm - alsoTurned(m.station);
    const last_mm = lastRead[m.station]?.[axis].mm ?? null;
    const was = levelBefore(now_mm, ofReference ? -asked : asked, before[m.station] ?? null, last_mm, scatter);
    return [{ change: now_mm - was.mm, sd: was.sd }];
  });
  if (changes.length === 0) return null;
  const mean = changes.reduce((sum, c) => sum + c.change, 0) / changes.length;
  const mm = ofReference ? -mean : mean;
  const share = scatter.share_of_reference;
  const reading = scatter.sigma_mm ** 2 * (share + (1 - share) / changes.length);
  const levels = changes.reduce((sum, c) => sum + c.sd ** 2, 0) / changes.length ** 2;
  const variance = Math.max(reading + levels, 1e-12);
  const against = (asked * asked - 2 * asked * mm) / (2 * variance);
  return { mm, sd: Math.sqrt(variance), took: against < Math.log(AGAINST) };
};

/**
 * Where the station stood before the move. After a sudden reading that is either its level so far (the reading was wrong) or what was read
 * (it was a step); which of the two, the reading after the move tells, since a knob nearly always gives about what was asked.
 */
const levelBefore = (
  now_mm: number,
  sent_mm: number,
  level: { readonly mean_mm: number; readonly sd_mm: number } | null,
  last_mm: number | null,
  scatter: ReadingScatter,
): { readonly mm: number; readonly sd: number } => {
  const so_far = { mm: level?.mean_mm ?? last_mm ?? 0, sd: level?.sd_mm ?? scatter.sigma_mm };
  if (last_mm === null || Math.abs(last_mm - so_far.mm) < SUDDEN * scatter.sigma_mm) return so_far;
  const stepped = { mm: last_mm, sd: scatter.sigma_mm };
  return foretold(now_mm, sent_mm, stepped, scatter) > foretold(now_mm, sent_mm, so_far, scatter) ? stepped : so_far;
};

/** Likelihood of the reading after a move from a level. */
const foretold = (
  now_mm: number,
  sent_mm: number,
  from: { readonly mm: number; readonly sd: number },
  scatter: ReadingScatter,
): number => {
  const variance = from.sd ** 2 + scatter.sigma_mm ** 2;
  const given = density(now_mm - from.mm - sent_mm, variance + (KNOB_ERROR * sent_mm) ** 2);
  return (1 - KNOB_DEAD) * given + KNOB_DEAD * density(now_mm - from.mm, variance);
};

const density = (off: number, variance: number): number =>
  Math.exp((-off * off) / (2 * variance)) / Math.sqrt(variance);
