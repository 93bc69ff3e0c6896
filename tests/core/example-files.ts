// The example press and job of the file descriptions, invented for this project: plum-jam lid labels on Line B.
export const PRESS_TEXT = `{ "format": "press/1", "name": "Line B", "gear": "1/8 in CP", "web_runs": "left-to-right", "roll_change": "running",
  "stations": [
    { "id": "1", "kind": "print", "at_m": 1.5 },
    { "id": "2", "kind": "print", "at_m": 2.7, "along": { "division_mm": 0.02, "sense": -1 } },
    { "id": "3", "kind": "print", "at_m": 3.9 },
    { "id": "D", "kind": "die", "at_m": 8.4, "fixed": ["across"] } ],
  "sample_m": 12.0, "samples": { "waste": 9.6, "before_die": 8.0 }, "sensor_m": 11.0,
  "knobs": { "along":  { "division_mm": 0.05, "travel_mm": 3.0, "word": "divisions", "while_running": true, "to_advance": "clockwise" },
             "across": { "division_mm": 0.05, "travel_mm": 5.0, "to_operator": "clockwise" } },
  "helix_deg": 0 }`;

export const JOB_TEXT = `{ "format": "job/1", "name": "plum jam lid", "units": { "register": "mm", "length": "m" },
  "repeat_teeth": 96, "labels_across": 4, "labels_around": 3, "marks": "label", "reference": "1",
  "stations": [ { "id": "1", "ink": "opaque white" }, { "id": "2", "ink": "plum", "aim": { "along_mm": 0, "across_mm": 0 } },
                { "id": "3", "ink": "leaf", "read": "measure" }, { "id": "D" } ],
  "tolerance": { "print": { "along_mm": 0.15, "across_mm": 0.15 }, "die": { "along_mm": 0.40, "across_mm": 0.40 }, "stations": { "3": { "along_mm": 0.10 } } },
  "pairs": [ { "stations": ["2", "3"], "along_mm": 0.12, "across_mm": 0.12 } ],
  "reading": { "resolution_mm": 0.05, "spread_mm": { "along": 0.04, "across": 0.03 }, "spread_worth_checks": 10 },
  "checks": { "every_roll": true, "every_m": 2500, "every_min": 60 }, "settle_m": 60, "finished_roll_m": 2000,
  "false_notice": { "keyed": 200, "sensor": 20000 } }`;
