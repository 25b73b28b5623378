import { deserialize, serialize } from 'node:v8';
import { describe, expect, it } from 'vitest';
import { decodeStreamPacket, encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import type { LiveView } from '../../src/core/pipeline/outputs.ts';
import {
  createPipeline,
  type PipelineState,
  stepPipeline,
  viewPipeline,
} from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import { setFile } from '../recording/sample-set.ts';
import { simulatedSet } from './simulated-set.ts';

const { session, records } = simulatedSet({});

function run(state: PipelineState, part: readonly SetRecord[]): PipelineState {
  for (const record of part) stepPipeline(state, record);
  return state;
}

/** All there is to see, live and in review, and every curve. */
function numbersOf(state: PipelineState) {
  const curves = state.swings.map(({ reading }) => reading.curves);
  return { live: viewPipeline(state), review: reviewPipeline(state), curves };
}

/** Whole set in one go. */
const wholeNumbers = numbersOf(run(createPipeline(session.description), records));
const whole: LiveView = wholeNumbers.live;

describe('the pipeline', () => {
  it('finds every swing of the player, zeroed, with a reach', () => {
    expect(whole.zero.phase).toBe('zeroed');
    expect(whole.swings).toHaveLength(session.truth.swings.length);
    for (const { swing } of whole.swings) expect(swing.voidReason).toBeNull();
  });

  it('reads reach at contact with an error of less than 0.6 cm SD and 1.7 cm mean', () => {
    // SD: the live goal of design.md section 13. Mean: cross-axis errors of 1 % and accelerometer bias of
    // 30 mg tilt axes by some 1.1 degrees per segment, 0.55 cm RMS over sets; three times that is allowed
    // here so that the test does not depend on its seed. `npm run accuracy` holds it against the goal.
    for (const strategy of ['distal', 'frozen'] as const) {
      const set = simulatedSet({ strategy, seed: 3, swings: 12 });
      const view = viewPipeline(run(createPipeline(set.session.description), set.records));
      const errors = view.swings.map(
        (s, i) => s.swing.reachM - set.session.truth.swings[i]!.reachM,
      );
      const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length;
      const variance = errors.reduce((sum, e) => sum + (e - mean) ** 2, 0) / (errors.length - 1);
      expect(Math.abs(mean)).toBeLessThan(0.017);
      expect(Math.sqrt(variance)).toBeLessThan(0.006);
    }
  });

  it('comes closer to the truth with hindsight, and says that it has it', () => {
    expect(whole.isReview).toBe(false);
    expect(wholeNumbers.review.isReview).toBe(true);
    // a set whose sensors happen to be poor: `npm run accuracy` has the figures over many
    const poor = simulatedSet({ strategy: 'frozen', implement: 'long', seed: 5, swings: 20 });
    const { live, review } = numbersOf(run(createPipeline(poor.session.description), poor.records));
    const meanOffM = ({ swings }: LiveView) => {
      const { truth } = poor.session;
      const off = swings.map(({ swing }, i) => swing.reachM - truth.swings[i]!.reachM);
      return Math.abs(off.reduce((sum, m) => sum + m, 0)) / off.length;
    };
    expect(meanOffM(review)).toBeLessThan(0.75 * meanOffM(live));
  });

  it('gives the same numbers bit for bit from a file as live', () => {
    const file = readSet(setFile(records, session.description));
    if (!file.ok) throw new Error(file.error.message);
    const state = run(createPipeline(file.set.description), file.set.records);
    expect(numbersOf(state)).toStrictEqual(wholeNumbers);
  });

  it('gives the same numbers bit for bit when looked at after every packet', () => {
    const state = createPipeline(session.description);
    const seen: number[] = [];
    for (const record of records) {
      stepPipeline(state, record);
      seen.push(viewPipeline(state).swings.length);
    }
    expect(numbersOf(state)).toStrictEqual(wholeNumbers);
    expect(new Set(seen).size).toBe(session.truth.swings.length + 1);
  });

  it('gives the same numbers bit for bit when saved and resumed anywhere', () => {
    // Ten cuts, each at an arbitrary record: in the poses, in a swing, in the ringing after a contact.
    let state = createPipeline(session.description);
    const cut = Math.ceil(records.length / 11);
    for (let from = 0; from < records.length; from += cut) {
      state = deserialize(serialize(run(state, records.slice(from, from + cut)))) as PipelineState;
    }
    expect(numbersOf(state)).toStrictEqual(wholeNumbers);
  });

  it('reports a damaged packet by sensor and goes on', () => {
    const state = createPipeline(session.description);
    const outputs = [];
    let damaged = 0;
    for (const [i, record] of records.entries()) {
      if (record.kind === 'notification' && i === 2000) {
        const bytes = record.bytes.slice();
        bytes[20] = bytes[20]! ^ 0xff;
        outputs.push(...stepPipeline(state, { ...record, bytes }));
        damaged++;
      } else outputs.push(...stepPipeline(state, record));
    }
    const refused = outputs.filter((o) => o.kind === 'packet-refused');
    expect(refused).toHaveLength(damaged);
    expect(refused[0]).toMatchObject({ segment: (records[2000] as { segment: string }).segment });
    expect(viewPipeline(state).swings).toHaveLength(session.truth.swings.length);
  });

  it('voids a swing whose data are missing and says why', () => {
    const third = session.truth.swings[2]!.contactTimeUs / 1e6;
    const errors = { ...DEFAULT_ERRORS, dropout: { atS: third - 0.3, lastsS: 0.25 } };
    const set = simulatedSet({ errors });
    const view = viewPipeline(run(createPipeline(set.session.description), set.records));
    expect(view.swings.map((s) => s.swing.voidReason)).toEqual([
      null,
      null,
      'sensor-gap',
      // The forearm turned unseen by up to 70 degrees: read at once, the next reach was 11 cm off.
      'unsettled',
      null,
      null,
    ]);
    expect(view.sensors.forearm.lostPackets).toBeGreaterThanOrEqual(4);
    expect(view.funnel.n).toBe(4);
  });

  it('reads no reach before the sensors are zeroed', () => {
    const withoutZero = records.filter((r) => r.kind !== 'event');
    const view = viewPipeline(run(createPipeline(session.description), withoutZero));
    expect(view.zero.phase).toBe('not-started');
    expect(view.swings).toHaveLength(6);
    for (const { swing } of view.swings) expect(swing.voidReason).toBe('not-zeroed');
    expect(view.funnel.n).toBe(0);
  });

  it('says which segment was not level when the pointing pose is poor', () => {
    const state = createPipeline(session.description);
    const problems = new Set<string>();
    const set = simulatedSet({ seed: 2, errors: { ...DEFAULT_ERRORS, poseDeg: 20 }, swings: 1 });
    for (const record of set.records) {
      for (const output of stepPipeline(state, record)) {
        if (output.kind === 'zero' && output.zero.phase === 'point' && output.zero.problem) {
          problems.add(output.zero.problem);
        }
      }
    }
    expect([...problems].join()).toMatch(/(upper arm|forearm|implement) \d+° (above|below) level/);
    expect(state.arm.zero.phase).toBe('point');
  });

  it('keeps scores with their swing, and forgets those withdrawn', () => {
    const state = run(createPipeline(session.description), records);
    const [first, second] = state.swings.map(({ reading }) => reading.swing);
    const at = { kind: 'event', hostTimeUs: state.hostTimeUs } as const;
    const score = (contactTimeUs: number, points: number) =>
      stepPipeline(state, { ...at, event: { type: 'score', contactTimeUs, points } });
    score(first!.contactTimeUs, 8);
    score(second!.contactTimeUs, 2);
    score(second!.contactTimeUs, 4);
    stepPipeline(state, {
      ...at,
      event: { type: 'score-withdrawn', contactTimeUs: first!.contactTimeUs },
    });
    stepPipeline(state, {
      ...at,
      event: { type: 'discarded', contactTimeUs: second!.contactTimeUs },
    });
    const { swings, funnel } = viewPipeline(state);
    expect(swings.map((s) => s.points)).toEqual([null, 4, null, null, null, null]);
    expect(swings.map((s) => s.discarded)).toEqual([false, true, false, false, false, false]);
    expect(funnel.n).toBe(5);
  });

  describe('when a sensor begins anew in mid-set', () => {
    const cutUs = session.truth.swings[2]!.contactTimeUs + 1.5e6;
    const other = simulatedSet({ seed: 9 });

    /** The forearm's later packets counted from 0 again, as after switching off and on. */
    function restarted(info: 'same' | 'other'): SetRecord[] {
      const first = records.find((r) => r.kind === 'sensor-info' && r.segment === 'forearm')!;
      const exchanged = other.records.find(
        (r) => r.kind === 'sensor-info' && r.segment === 'forearm',
      )!;
      const bytes = (info === 'same' ? first : exchanged) as { bytes: Uint8Array };
      let sequence = 0;
      let firstTick: number | null = null;
      return records.flatMap((record): SetRecord[] => {
        const isLate = record.hostTimeUs > cutUs && record.kind === 'notification';
        if (!isLate || record.segment !== 'forearm') return [record];
        const decoded = decodeStreamPacket(record.bytes);
        if (!decoded.ok) throw new Error(decoded.fault.message);
        const before: SetRecord[] = [];
        if (firstTick === null) {
          firstTick = decoded.packet.firstTick;
          const hostTimeUs = record.hostTimeUs;
          before.push({ kind: 'sensor-info', segment: 'forearm', hostTimeUs, bytes: bytes.bytes });
        }
        const packet = {
          ...decoded.packet,
          sequence: sequence++,
          firstTick: (decoded.packet.firstTick - firstTick + 2 ** 32) % 2 ** 32,
        };
        return [...before, { ...record, bytes: encodeStreamPacket(packet) }];
      });
    }

    it.each(['same', 'other'] as const)('takes its packets and asks for new poses (%s)', (info) => {
      const view = viewPipeline(run(createPipeline(session.description), restarted(info)));
      expect(view.sensors.forearm.refusedPackets).toBe(0);
      expect(view.zero).toMatchObject({ phase: 'not-started' });
      expect(view.zero).toHaveProperty('problem', expect.stringContaining('forearm'));
      const reasons = view.swings.map((s) => s.swing.voidReason);
      expect(reasons).toEqual([null, null, null, 'not-zeroed', 'not-zeroed', 'not-zeroed']);
    });

    it('goes on undisturbed when only its link was remade', () => {
      const info = records.find((r) => r.kind === 'sensor-info' && r.segment === 'forearm')!;
      const at = records.findIndex((r) => r.hostTimeUs > cutUs);
      const again = { ...info, hostTimeUs: records[at]!.hostTimeUs };
      const remade = [...records.slice(0, at), again, ...records.slice(at)];
      const view = viewPipeline(run(createPipeline(session.description), remade));
      expect(view).toStrictEqual(whole);
    });
  });
});
