import type { ChartView } from '../../core/views/chart-view.js';
import type { EventStory, HandoverView } from '../../core/views/handover-view.js';

/** How much sooner a movement was noticed than a three-sigma chart of single readings would have; metres of web. */
export type Earlier = {
  readonly event: number;
  readonly metres: number;
  /** The plain chart had not noticed by the time the movement was put right or the readings ended: the true figure is larger. */
  readonly atLeast: boolean;
};

/**
 * Replays the same readings on a plain three-sigma chart: from where the movement was found to the first reading at or after it beyond the
 * limits. Only movements of one station with a chart and known limits; others are left out, not counted as zero. An estimate: had nobody
 * turned a knob, the plain chart would have gone on longer. Example: found at 12 000 m, first reading beyond the limits at 13 300 m → 1 300 m.
 */
export const noticedEarlier = (view: HandoverView): readonly Earlier[] =>
  view.stories.flatMap((story) => {
    const { cause } = story.event;
    if (cause.kind !== 'station' || story.event.how_closed === 'withdrawn') return [];
    const chart = (view.charts ?? []).find(
      (known) => known.station === cause.station && known.axis === story.event.axis,
    );
    const found = chart === undefined ? null : earlier(story, chart);
    return found === null ? [] : [found];
  });

function earlier(story: EventStory, chart: ChartView): Earlier | null {
  const { limits_mm } = chart;
  if (limits_mm === null) return null;
  const read = chart.points.filter(
    (point) =>
      !point.withdrawn && point.web_m >= story.event.since.web_m && point.web_m <= (story.closed_web_m ?? Infinity),
  );
  const end = read[read.length - 1];
  if (end === undefined || end.web_m < story.found_web_m) return null;
  const beyond = read.find((point) => point.mm < limits_mm.lower || point.mm > limits_mm.upper);
  return {
    event: story.event.id,
    metres: Math.max(0, (beyond ?? end).web_m - story.found_web_m),
    atLeast: beyond === undefined,
  };
}
