import {
  beginPlace,
  guessesOf,
  type KnobBelief,
  knownPlace,
  type Place,
  type PlaceFilter,
  placeOf,
  readPlace,
  shiftedPlace,
  surpriseOf,
  turnedPlace,
} from '../adjust/place-filter.js';
import { knownOf } from '../adjust/response.js';
import { sharedMove } from '../adjust/shared-move.js';
import type { Axis, PerAxis } from '../axis.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import { knobOf } from './knob-of.js';
import { makeReadyScatter } from './make-ready-scatter.js';
import { meanOfLabels } from './mean-of-labels.js';
import { showsTurn } from './shows-turn.js';
import type { Judged, Turned } from './state.js';
import type { Station } from './stations.js';

/** What make-ready knows of one station on one axis. */
export type MakeReadyPlace = Place & {
  /** Labels read of it as the press was set then. */
  readonly labels: number;
  /** A reading far from all that was expected, or labels that disagree: read again before it is believed. */
  readonly doubted: boolean;
  /** Which way the knob was turned last, by its mark. */
  readonly last: 1 | -1 | null;
  /** How far its knob was turned up to the last sample, as it moved the print, mm asked. */
  readonly used_mm: number;
  /** All that is known of it and of its knob. */
  readonly filter: PlaceFilter;
};

/** How many sigma from what was expected make a single label doubtful; from there a second costs less than a wrong turn. */
const DOUBTED = 3.5;

type Line = { base: PlaceFilter; labels: number[] };

/**
 * Where every station stands by all that was read in this make-ready, sample by sample with the known turns between, and what its knob
 * gives; of the reference only what its knob gives (its place is 0). Stations never read are left out.
 */
export const makeReadyPlaces = (
  press: Press,
  job: Job,
  judged: Judged,
  stations: readonly Station[],
): PerAxis<Readonly<Record<string, MakeReadyPlace>>> => {
  const variance = makeReadyScatter(press, job, judged, stations);
  const across = placesOn('across', variance.across, press, judged, stations, () => 0);
  const shift = Math.tan((press.helix_deg * Math.PI) / 180);
  const gains = (id: string): number => across[id]?.gain ?? 1;
  return {
    across,
    along: placesOn('along', variance.along, press, judged, stations, (t) => shift * t.move_mm * gains(t.station)),
  };
};

const placesOn = (
  axis: Axis,
  /** Of one reading, mm². */
  variance: number,
  press: Press,
  judged: Judged,
  stations: readonly Station[],
  /** What a turn across does along, mm. */
  coupled: (turn: Turned) => number,
): Readonly<Record<string, MakeReadyPlace>> => {
  const lines = new Map<string, Line>(
    stations.map((s) => {
      const begun = beginPlace(beliefOf(judged, s, axis));
      return [s.id, { base: s.id === judged.reference ? knownPlace(begun) : begun, labels: [] }];
    }),
  );
  const now = (line: Line): PlaceFilter => {
    const mean = meanOfLabels(line.labels, variance, line.base.read ? (placeOf(line.base)?.mm ?? null) : null);
    return mean === null ? line.base : readPlace(line.base, mean.mm, mean.variance);
  };
  const settle = (line: Line): void => {
    line.base = now(line);
    line.labels = [];
  };
  /** The turns on this axis, or across on helical gears, as they act on the station's own print. */
  const turn = (line: Line, t: Turned): void => {
    settle(line);
    if (t.axis !== axis) {
      const mm = coupled(t);
      line.base = shiftedPlace(line.base, mm, (COUPLED_SHARE * mm) ** 2);
      return;
    }
    const teeth_mm = axis === 'along' ? (t.teeth ?? 0) * press.tooth_mm : 0;
    const told = placeOf(line.base)?.sense ?? 1;
    line.base = turnedPlace(line.base, { teeth_mm, knob_mm: tidied(t.move_mm - teeth_mm), told });
  };
  const shown = new Set<number>();
  const matter = judged.turns.filter((t) => t.axis === axis || (axis === 'along' && press.helix_deg !== 0));
  for (const entry of judged.trail) {
    const fresh = matter.filter((t) => !shown.has(t.seq) && showsTurn(press, stations, t, entry));
    for (const t of fresh) shown.add(t.seq);
    const reference = lines.get(judged.reference);
    const ofReference = fresh.filter((t) => t.station === judged.reference);
    for (const t of fresh) {
      const line = lines.get(t.station);
      if (line !== undefined && t.station !== judged.reference) turn(line, t);
    }
    if (reference !== undefined && ofReference.length > 0) {
      for (const t of ofReference) turn(reference, t);
      const others = [...lines].filter(([id]) => id !== judged.reference).map(([, line]) => line);
      others.forEach(settle);
      const got = sharedMove(
        guessesOf(reference.base),
        stations.flatMap((s, i) => {
          const mm = entry[axis][i] ?? null;
          const line = lines.get(s.id);
          const expected = s.id === judged.reference || line === undefined ? [] : guessesOf(line.base);
          return mm === null || expected.length === 0 ? [] : [{ expected, mm, variance }];
        }),
      );
      if (got !== null) reference.base = readPlace(reference.base, got.mm, got.variance);
      const is = placeOf(reference.base);
      for (const line of others) line.base = shiftedPlace(line.base, -(is?.mm ?? 0), (is?.sd_mm ?? 0) ** 2);
      reference.base = knownPlace(reference.base);
    }
    stations.forEach((s, i) => {
      const mm = entry[axis][i] ?? null;
      const line = lines.get(s.id);
      if (mm === null || line === undefined || s.id === judged.reference) return;
      if (entry.web_m <= (judged.new_marks_m?.[s.id] ?? Number.NEGATIVE_INFINITY)) return;
      line.labels.push(mm);
    });
  }
  return Object.fromEntries(
    [...lines].flatMap(([id, line]) => {
      const filter = now(line);
      const place = placeOf(filter);
      if (place === null) return [];
      const [first] = line.labels;
      const mean = meanOfLabels(line.labels, variance, null);
      const doubted =
        id !== judged.reference &&
        ((line.labels.length === 1 && first !== undefined && surpriseOf(line.base, first, variance) > DOUBTED) ||
          (line.labels.length === 2 && mean?.agree === false));
      return [
        [
          id,
          {
            ...place,
            labels: line.labels.length,
            doubted,
            last: line.base.last,
            used_mm: line.base.hand_mm * place.sense,
            filter,
          },
        ],
      ];
    }),
  );
};

/** On helical gears a side move shifts along by the angle; that is known to about so much of it. */
const COUPLED_SHARE = 0.12;

/** Before any turn: as learned in runs before, else as good as a press file mostly is, or a knob nobody measured. */
const beliefOf = (judged: Judged, station: Station, axis: Axis): KnobBelief => {
  const knob = knobOf(judged, station, axis);
  const response = judged.knobs[station.id]?.[axis];
  const known = response === undefined || response.moves === 0 ? null : knownOf(response);
  const reversed = knob.sense_given ? REVERSED.given : known?.sense === 1 ? REVERSED.given : REVERSED.taken;
  const gain_sd = knob.division_mm === null ? GAIN_SD.unmeasured : GAIN_SD.given;
  if (known === null) return { gain: 1, gain_sd, slack_mm: SLACK_MM, slack_sd_mm: SLACK_SD_MM, reversed };
  return {
    gain: (known.gain.plus + known.gain.minus) / 2,
    gain_sd: Math.min(gain_sd, Math.hypot((known.gain_sd.plus + known.gain_sd.minus) / 2, 0.03)),
    slack_mm: known.backlash_mm,
    slack_sd_mm: Math.max(known.backlash_sd_mm, 0.01),
    reversed,
  };
};

/** Divisions of a press file are good to a tenth or so, a division that nobody measured to a third; common practice, no source. */
const GAIN_SD = { given: 0.08, unmeasured: 0.3 };
const SLACK_MM = 0.02;
const SLACK_SD_MM = 0.04;
/** A hand turns the wrong way far oftener than a mark that was given is wrong: one turn does not turn that about. */
const REVERSED = { given: 0.0003, taken: 0.04 };

const tidied = (mm: number): number => (Math.abs(mm) < 1e-9 ? 0 : mm);
