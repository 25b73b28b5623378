import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createPipeline, stepPipeline, viewPipeline } from '../core/pipeline/pipeline.ts';
import { atFileTime } from '../core/recording/set-file-format.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { SetWriter } from '../core/recording/set-writer.ts';
import { DEFAULT_ERRORS } from '../core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../core/simulator/session-types.ts';
import { simulateSession } from '../core/simulator/simulate-session.ts';

const FOLDER = 'recorded-streams';

/** The invented demo scenario: the same nine-year-old with scaled and with full-size kit. */
const DEMOS: readonly { readonly name: string; readonly options: SessionOptions }[] = [
  { name: 'player-a-short-racket', options: options(7, 'distal', 'short', 'training') },
  { name: 'player-a-full-racket', options: options(8, 'frozen', 'full', 'standard') },
];

function options(
  seed: number,
  strategy: SessionOptions['strategy'],
  implement: SessionOptions['implement'],
  ball: SessionOptions['ball'],
): SessionOptions {
  return {
    seed,
    strategy,
    implement,
    ball,
    handedness: 'right',
    swings: 20,
    swingIntervalS: 6,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
  };
}

/** All records of a simulated set, scored by what the ball did, as a coach would have. */
function* scoredRecords(steps: ReturnType<typeof simulateSession>['steps']): Generator<SetRecord> {
  let lastUs = 0;
  for (const step of steps) {
    if (step.kind === 'record') {
      lastUs = step.record.hostTimeUs;
      yield step.record;
    } else {
      const { contactTimeUs, points } = step.landing;
      yield {
        kind: 'event',
        hostTimeUs: step.hostTimeUs,
        event: { type: 'score', contactTimeUs, points },
      };
    }
  }
  yield { kind: 'event', hostTimeUs: lastUs, event: { type: 'set-ended' } };
}

const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
mkdirSync(FOLDER, { recursive: true });
for (const { name, options } of DEMOS) {
  const session = simulateSession(options, {
    setId: name,
    // A date of no meaning: files must come out the same whenever they are made.
    startedAtMs: Date.UTC(2026, 0, 10, 10),
    programVersion: version,
  });
  const parts: Uint8Array[] = [];
  const writer = SetWriter.open({ append: (bytes) => parts.push(bytes) }, session.description);
  const state = createPipeline(session.description);
  for (const record of scoredRecords(session.steps)) {
    writer.append(record);
    stepPipeline(state, atFileTime(record));
  }
  writer.end();
  const file = Buffer.concat(parts);
  writeFileSync(`${FOLDER}/${name}.mcap`, file);
  const { swings, funnel } = viewPipeline(state);
  const provenance = {
    comment: 'Simulated, invented: no person swung here. Made by `npm run record-demo`.',
    programVersion: version,
    options,
    truth: {
      comment: "The simulator's truth: contacts in seconds, reach at contact in metres.",
      contactS: session.truth.swings.map((swing) => round(swing.contactTimeUs / 1e6, 4)),
      reachM: session.truth.swings.map((swing) => round(swing.reachM, 4)),
    },
    measuredWhenMade: {
      swings: swings.length,
      spreadCm: [0, 25, 50, 75, 100].map((point) => round(100 * funnel.spreadM[point]!, 2)),
    },
  };
  writeFileSync(`${FOLDER}/${name}.json`, `${JSON.stringify(provenance, null, 2)}\n`);
  console.log(
    `${FOLDER}/${name}.mcap  ${(file.length / 1e6).toFixed(2)} MB, ${swings.length} swings`,
  );
}

function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
