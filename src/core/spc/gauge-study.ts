import { fail, ok, type Result } from '../result.js';

/** One reading of a gauge study: which part, by whom, and what was read. */
export type GaugeReading = { readonly part: string; readonly operator: string; readonly value: number };

/**
 * A gauge study laid out for computing: every operator has read every part equally often.
 * `cells[operator][part]` holds the repeats. Refused, and said where: fewer than 2 parts or repeats, fewer than 2
 * operators, a part some operator read more or less often than the others, readings that are all equal.
 */
export type GaugeStudy = {
  readonly parts: readonly string[];
  readonly operators: readonly string[];
  readonly repeats: number;
  readonly cells: readonly (readonly (readonly number[])[])[];
};

export const gaugeStudy = (readings: readonly GaugeReading[]): Result<GaugeStudy> => {
  const parts = [...new Set(readings.map(({ part }) => part))];
  const operators = [...new Set(readings.map(({ operator }) => operator))];
  if (parts.length < 2) return fail(`a gauge study needs at least 2 parts, got ${parts.length}`);
  if (operators.length < 2) return fail(`a gauge study needs at least 2 operators, got ${operators.length}`);
  const held = new Map<string, number[]>();
  for (const { part, operator, value } of readings) {
    if (!Number.isFinite(value)) return fail(`${value} is not a reading`, `operator ${operator}, part ${part}`);
    const key = JSON.stringify([operator, part]);
    const cell = held.get(key) ?? [];
    cell.push(value);
    held.set(key, cell);
  }
  const cells = operators.map((operator) => parts.map((part) => held.get(JSON.stringify([operator, part])) ?? []));
  const repeats = cells[0]?.[0]?.length ?? 0;
  for (const [o, row] of cells.entries()) {
    for (const [p, cell] of row.entries()) {
      if (cell.length === repeats) continue;
      return fail(
        `operator ${operators[o]} read part ${parts[p]} ${times(cell.length)}, but operator ${operators[0]} read part ` +
          `${parts[0]} ${times(repeats)}: every operator must read every part equally often`,
      );
    }
  }
  if (repeats < 2) return fail('each operator must read each part at least 2 times, else repeats show nothing');
  const first = readings[0]?.value;
  if (readings.every(({ value }) => value === first)) {
    return fail(`all ${readings.length} readings are ${first}: the gauge shows no scatter (too coarse a step?)`);
  }
  return ok({ parts, operators, repeats, cells });
};

const times = (count: number): string => (count === 1 ? 'once' : `${count} times`);
