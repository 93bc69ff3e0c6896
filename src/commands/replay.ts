import { placeWords } from '../core/counter.js';
import { readReadings } from '../core/readings/read-readings.js';
import { replayRun } from '../core/run/from-file.js';
import { eventNames } from '../core/views/event-names.js';
import { findingWords } from '../core/views/finding-words.js';
import { summaryOf } from '../core/views/summary.js';
import { type Exit, type Io, OK, refuse } from './exit.js';
import { codeFor } from './problem-code.js';
import { LARGEST_READINGS, readSetup, readText } from './read-setup.js';
import { replayLine, summaryLine } from './replay-line.js';

/** Reads and checks a whole readings file, then feeds it through the judgement and prints what it says; nothing is printed of a bad file. */
export const replay = async (
  file: string,
  options: { readonly press: string; readonly job: string; readonly json?: boolean },
  io: Io,
): Promise<Exit> => {
  const setup = readSetup(options.press, options.job);
  if (!setup.ok) return refuse(io, setup.problem.message, codeFor(setup.problem));
  const text = readText(file, LARGEST_READINGS);
  if (!text.ok) return refuse(io, text.problem.message, codeFor(text.problem));
  const runs = readReadings(text.value, file, setup.value);
  if (!runs.ok) return refuse(io, runs.problem.message, codeFor(runs.problem));
  const { press, job } = setup.value;
  const said: string[] = [];
  for (const run of runs.value) {
    const ended = replayRun(press, job, run, file, ({ state, from, found }) => {
      for (const f of found)
        said.push(
          options.json === true
            ? replayLine({ run: from.run, check: from.check, web_m: from.web_m }, f)
            : `${from.web_m === null ? '' : placeWords(from.web_m, eventNames(state))}  ${findingWords(state, f)}`,
        );
    });
    if (!ended.ok) return refuse(io, ended.problem.message, codeFor(ended.problem));
    const { checks } = ended.value.judged;
    if (options.json === true) said.push(summaryLine(run.run, checks.made, summaryOf(ended.value)));
    else said.push(`run ${run.run ?? ''}: ${checks.made} checks`.trim());
  }
  io.out(said.map((line) => `${line}\n`).join(''));
  return OK;
};
