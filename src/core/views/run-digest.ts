import { z } from 'zod';
import type { HandoverView } from './handover-view.js';
import { heldMetres } from './held-metres.js';
import { isMovement } from './is-movement.js';

const axis = z.enum(['along', 'across']);

/** What one run leaves in the index for history across runs; made from its log, so the index can be rebuilt. Metres, millimetres. */
export const runDigestSchema = z.strictObject({
  format: z.literal('digest/1'),
  run: z.string(),
  press: z.string(),
  job: z.string(),
  began_at: z.string(),
  made_m: z.number(),
  checks: z.number(),
  held_m: z.number(),
  stations: z.array(z.string()),
  movements: z.array(
    z.strictObject({
      cause: z.enum(['station', 'reference', 'web', 'several']),
      stations: z.array(z.string()),
      axis,
      shape: z.enum(['step', 'ramp']),
      out: z.boolean(),
      since_m: z.number(),
      /** How far, + ahead / + operator side (web: mm a metre of path); absent in an older index. */
      mm: z.number().optional(),
    }),
  ),
  turns: z.array(z.strictObject({ station: z.string(), axis, asked_mm: z.number(), got_mm: z.number() })),
  /** Scatter of single readings, 1 sigma; null = not known. */
  scatter_mm: z.strictObject({ along: z.number().nullable(), across: z.number().nullable() }),
  washed: z.array(
    z.strictObject({ station: z.string(), flag: z.string().nullable(), last_wash_m: z.number().nullable() }),
  ),
  /** Stations whose plate was dirty at any time in the run, washed since or not; absent in an older index. */
  dirty: z.array(z.string()).optional(),
  /** How long plates ran clean: first seen building or dirty between two checks, or still clean at `from_m` (`to_m` null). */
  lives: z.array(z.strictObject({ station: z.string(), from_m: z.number(), to_m: z.number().nullable() })),
});

export type RunDigest = z.infer<typeof runDigestSchema>;

/** The digest of a run, from the handover view over the whole of it. Movements that were taken back are left out. */
export function runDigest(view: HandoverView): RunDigest {
  const { board } = view;
  const drifts = new Set(view.stories.flatMap(({ event }) => (event.shape === 'ramp' ? [event.id] : [])));
  const reference = board.stations.find((station) => station.is_reference)?.id;
  return {
    format: 'digest/1',
    run: board.run,
    press: board.press,
    job: board.job,
    began_at: view.since_at,
    made_m: Math.max(0, view.made_m ?? 0),
    checks: view.checks.made,
    held_m: heldMetres(view),
    stations: board.stations.map((station) => station.id),
    movements: view.stories
      .filter(({ event }) => isMovement(event))
      .map(({ event }) => ({
        cause: event.cause.kind,
        stations:
          event.cause.kind === 'station'
            ? [event.cause.station]
            : event.cause.kind === 'several'
              ? [...event.cause.stations]
              : event.cause.kind === 'reference' && reference !== undefined
                ? [reference]
                : [],
        axis: event.axis,
        shape: event.shape,
        out: event.severity === 'out',
        since_m: event.since.web_m,
        mm: event.moved_mm,
      })),
    turns: view.corrections.flatMap(({ station, axis, result, withdrawn }) =>
      // What goes on drifting between the turn and the sample would be taken for the knob.
      result === null || withdrawn || drifts.has(result.event ?? -1)
        ? []
        : [{ station, axis, asked_mm: result.asked_mm, got_mm: result.got_mm }],
    ),
    scatter_mm: { along: view.scatter_mm.along, across: view.scatter_mm.across },
    ...(view.whole?.dirty_plates === undefined ? {} : { dirty: [...view.whole.dirty_plates] }),
    lives: (view.whole?.plate_lives ?? []).flatMap(({ station, lives }) =>
      lives.map(({ from_m, to_m }) => ({ station, from_m, to_m })),
    ),
    washed: board.stations
      .filter((station) => station.kind === 'print')
      .map(({ id, plate }) => ({ station: id, flag: plate.flag, last_wash_m: plate.last_wash_m })),
  };
}
