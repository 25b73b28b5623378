import type { SetDescription } from '../../src/core/recording/set-description.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { SetWriter } from '../../src/core/recording/set-writer.ts';

/** An invented description, with letters outside ASCII. */
export const sampleDescription: SetDescription = {
  setId: 'sample-1',
  startedAtMs: 1_700_000_000_000,
  programVersion: '0.1.0',
  source: 'simulated',
  player: 'Zoë 7 🏓',
  handedness: 'left',
  lengthsM: { upperArm: 0.27, forearm: 0.22, implement: 0.55 },
  sensorFromJointM: { upperArm: 0.15, forearm: 0.16, implement: 0.12 },
  implement: 'short racket',
  ball: 'training',
  sweetSpotBand: { reachM: 0.9, halfWidthM: 0.03 },
  scoreSteps: [5, 3, 1, 0],
};

/** Every kind of record and event, channels interleaved, bytes not always a sound packet. */
export const sampleRecords: readonly SetRecord[] = [
  { kind: 'sensor-info', segment: 'upperArm', hostTimeUs: 0, bytes: Uint8Array.of(1, 2, 3) },
  { kind: 'sensor-info', segment: 'implement', hostTimeUs: 0.001, bytes: new Uint8Array(52) },
  { kind: 'event', hostTimeUs: 10, event: { type: 'zero-requested' } },
  { kind: 'notification', segment: 'implement', hostTimeUs: 12.5, bytes: Uint8Array.of(255) },
  {
    kind: 'notification',
    segment: 'upperArm',
    hostTimeUs: 12.5,
    bytes: new Uint8Array(244).fill(7),
  },
  { kind: 'notification', segment: 'forearm', hostTimeUs: 11, bytes: new Uint8Array(0) },
  { kind: 'event', hostTimeUs: 3e6, event: { type: 'score', contactTimeUs: 2.5e6, points: 3 } },
  { kind: 'event', hostTimeUs: 3e6, event: { type: 'score-withdrawn', contactTimeUs: 2.5e6 } },
  { kind: 'event', hostTimeUs: 4e6, event: { type: 'discarded', contactTimeUs: 2.5e6 } },
  { kind: 'event', hostTimeUs: 5e6, event: { type: 'discard-withdrawn', contactTimeUs: 0.1 } },
  {
    kind: 'event',
    hostTimeUs: 5e6,
    event: { type: 'discarded', contactTimeUs: 3, reason: 'ball hit the net cord' },
  },
  {
    kind: 'event',
    hostTimeUs: 5e6,
    event: { type: 'landed', contactTimeUs: 2.5e6, beyondM: -0.4, leftM: 1.25 },
  },
  { kind: 'event', hostTimeUs: 5e6, event: { type: 'landing-withdrawn', contactTimeUs: 2.5e6 } },
  {
    kind: 'event',
    hostTimeUs: 5e6,
    event: { type: 'ends-moved', contactTimeUs: 2.5e6, startsAtUs: 2.2e6, endsAtUs: 2.49e6 },
  },
  { kind: 'event', hostTimeUs: 5e6, event: { type: 'ends-restored', contactTimeUs: 2.5e6 } },
  {
    kind: 'event',
    hostTimeUs: 5.5e6,
    event: {
      type: 'block-began',
      condition: {
        implement: 'full racket',
        ball: 'standard',
        feed: 'dropped by hand',
        implementLengthM: 0.58,
        implementSensorFromWristM: 0.12,
        sweetSpotBand: null,
      },
    },
  },
  { kind: 'event', hostTimeUs: 6e6, event: { type: 'note', text: 'wind, "left" side\n— näher' } },
  { kind: 'event', hostTimeUs: 3.6e9, event: { type: 'set-ended' } },
];

/** The bytes of a set file with these records; without its end when `isEnded` is false. */
export function setFile(
  records: readonly SetRecord[],
  description: SetDescription = sampleDescription,
  isEnded = true,
): Uint8Array {
  const parts: Uint8Array[] = [];
  const writer = SetWriter.open({ append: (bytes) => parts.push(bytes) }, description);
  for (const record of records) writer.append(record);
  if (isEnded) writer.end();
  return new Uint8Array(Buffer.concat(parts));
}
