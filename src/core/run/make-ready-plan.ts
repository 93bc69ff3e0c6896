import { type MakeReadyKnown, type MakeReadyPlan, makeReadyPlan } from '../adjust/make-ready.js';
import type { PlanInput, PlanStation } from '../adjust/plan-input.js';
import { reversedKnob } from '../adjust/turn.js';
import type { Axis, PerAxis } from '../axis.js';
import { BRING_IN } from '../job.js';
import type { Press } from '../press.js';
import { printedAt } from '../web.js';
import { planInput } from './advise.js';
import { type MakeReadyPlace, makeReadyPlaces } from './make-ready-places.js';
import type { Judged, RunState } from './state.js';
import { type Station, stationsOf } from './stations.js';

/** What make-ready asks for now, from all that was read and turned since the run was opened; what was turned since the last sample is ticked off. */
export const planOfMakeReady = ({ press, job, judged }: Pick<RunState, 'press' | 'job' | 'judged'>): MakeReadyPlan => {
  const stations = stationsOf(press, job);
  const places = makeReadyPlaces(press, job, judged, stations);
  const levels = (axis: Axis) =>
    Object.fromEntries(
      stations.map((s) => {
        const place = places[axis][s.id];
        return [s.id, place === undefined ? null : { mean_mm: place.mm, sd_mm: place.sd_mm }];
      }),
    );
  const both = { along: levels('along'), across: levels('across') };
  const input = (axis: Axis): PlanInput => {
    const plain = planInput(press, job, judged, stations, axis, both);
    return {
      ...plain,
      stations: plain.stations.map((s) =>
        asFound(s, places[axis][s.id], knobPending(axis, press, judged, s.id, stations)),
      ),
    };
  };
  return makeReadyPlan({
    inputs: { along: input('along'), across: input('across') },
    known: {
      along: knownOn('along', press, judged, stations, places),
      across: knownOn('across', press, judged, stations, places),
    },
    bring_in: job.bring_in ?? BRING_IN,
  });
};

/** The station with its knob as this make-ready found it: how much it gives, and which way. */
const asFound = (station: PlanStation, place: MakeReadyPlace | undefined, pending_mm: number): PlanStation => {
  if (place === undefined) return station;
  // Travel is of the print: a knob that gives more than its marks say comes to its end sooner.
  const travel_mm = station.knob.travel_mm === null ? null : (station.knob.travel_mm * OF_TRAVEL) / place.gain;
  const knob = { ...station.knob, travel_mm };
  return {
    ...station,
    used_mm: place.used_mm + pending_mm,
    gain: { plus: place.gain, minus: place.gain },
    knob: place.sense === 1 ? knob : reversedKnob(knob),
  };
};

/** Nobody turns a knob to its very end. */
const OF_TRAVEL = 0.97;

const knownOn = (
  axis: Axis,
  press: Press,
  judged: Judged,
  stations: readonly Station[],
  places: PerAxis<Readonly<Record<string, MakeReadyPlace>>>,
): Readonly<Record<string, MakeReadyKnown>> => {
  return Object.fromEntries(
    stations.map((s): [string, MakeReadyKnown] => {
      const place = places[axis][s.id];
      const pending_mm = pendingTurns(axis, press, judged, s).reduce(
        (sum, { teeth_mm, knob_mm }) => sum + teeth_mm + knob_mm * (place?.gain ?? 1),
        0,
      );
      // By its mark it was turned one way; the print went that way or the other.
      const last = place === undefined || place.last === null ? null : place.sense === place.last ? 1 : -1;
      return [
        s.id,
        {
          labels: place?.labels ?? 0,
          doubted: place?.doubted ?? false,
          slack_mm: place?.slack_mm ?? 0,
          last,
          pending_mm: Math.abs(pending_mm) < 1e-9 ? 0 : pending_mm,
        },
      ];
    }),
  );
};

/** Turns that the last sample does not show yet. */
const pendingTurns = (axis: Axis, press: Press, judged: Judged, station: Pick<Station, 'id' | 'at_m'>) => {
  const shown_m = printedAt(judged.last_check?.web_m ?? Number.NEGATIVE_INFINITY, press.sample_m, station.at_m);
  return judged.turns
    .filter((t) => t.station === station.id && t.axis === axis && t.web_m > shown_m)
    .map((t) => {
      const teeth_mm = axis === 'along' ? (t.teeth ?? 0) * press.tooth_mm : 0;
      return { teeth_mm, knob_mm: t.move_mm - teeth_mm };
    });
};

const knobPending = (axis: Axis, press: Press, judged: Judged, id: string, stations: readonly Station[]): number => {
  const station = stations.find((s) => s.id === id);
  if (station === undefined) return 0;
  return pendingTurns(axis, press, judged, station).reduce((sum, t) => sum + t.knob_mm, 0);
};
