import type { SensorReading } from '../core/sensor-reading.js';

/** Lets a reading through, or holds it back as a jump. */
export type JumpGate = { readonly passes: (reading: SensorReading) => boolean; readonly reset: () => void };

type Axis = 'along_mm' | 'across_mm';
type Place = { last: number | null; held: number | null };

/**
 * Holds back a reading that lies more than `jumpMm` from the one before it, until the next one agrees with it: a spark is dropped, a plate that
 * really slipped is seen one repeat later. Without a limit everything passes.
 */
export const createJumpGate = (jumpMm: number | undefined): JumpGate => {
  const places = new Map<string, Record<Axis, Place>>();
  const near = (value: number, other: number | null): boolean =>
    other !== null && Math.abs(value - other) <= (jumpMm ?? 0);
  const passesAxis = (place: Place, value: number | null): boolean => {
    if (value === null) return true;
    if (place.last === null || near(value, place.last) || near(value, place.held)) {
      place.last = value;
      place.held = null;
      return true;
    }
    place.held = value;
    return false;
  };
  return {
    passes: (reading) => {
      if (jumpMm === undefined) return true;
      let place = places.get(reading.station);
      if (place === undefined) {
        // The wire cannot make it grow for ever: no press has this many stations.
        if (places.size >= MOST_STATIONS) return false;
        place = { along_mm: { last: null, held: null }, across_mm: { last: null, held: null } };
        places.set(reading.station, place);
      }
      const along = passesAxis(place.along_mm, reading.along_mm);
      const across = passesAxis(place.across_mm, reading.across_mm);
      return along && across;
    },
    reset: () => places.clear(),
  };
};

const MOST_STATIONS = 256;
