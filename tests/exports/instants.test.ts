import { describe, expect, it } from 'vitest';
import { INSTANT_COLUMNS, instantTable } from '../../src/core/exports/instant-table.ts';
import type { Cell } from '../../src/core/exports/table.ts';
import { decodeSensorInfo, encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { createPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';
import { finishedState } from './demo-set.ts';

const { session, records } = simulatedSet({ swings: 3 });
const at = Object.fromEntries(INSTANT_COLUMNS.map(({ name }, i) => [name, i]));

function rowsOf(set: ReturnType<typeof simulatedSet>) {
  const state = createPipeline(set.session.description);
  const rows = [...instantTable(state, set.records).rows];
  const column = (name: string): Cell[] => rows.map((row) => row[at[name]!]!);
  return { state, rows, column };
}

describe('instantTable', () => {
  const { state, rows, column } = rowsOf({ session, records });

  it('has every instant of the timeline once, 5 ms apart', () => {
    expect(rows).toHaveLength(state.arm.timeline.count);
    // Well beyond the ten seconds that the pipeline itself keeps.
    expect(rows.length).toBeGreaterThan(2 * 2048);
    const times = column('time_s') as number[];
    times.forEach((time, n) => {
      expect(time).toBeCloseTo(times[0]! + 0.005 * n, 9);
    });
  });

  it('leaves the pipeline where it would be without it', () => {
    const plain = finishedState({ description: session.description, records });
    expect(reviewPipeline(state)).toEqual(reviewPipeline(plain));
  });

  it('numbers the instants of each swing, from its start to its contact', () => {
    const times = column('time_s') as number[];
    const numbers = column('swing');
    const { swings } = reviewPipeline(state);
    expect(swings).toHaveLength(3);
    for (const { swing } of swings) {
      const inside = times.filter((_, n) => numbers[n] === swing.index + 1);
      expect(inside[0]! * 1e6 - swing.startTimeUs).toBeGreaterThanOrEqual(0);
      expect(inside[0]! * 1e6 - swing.startTimeUs).toBeLessThanOrEqual(5000);
      expect(swing.contactTimeUs - inside.at(-1)! * 1e6).toBeGreaterThanOrEqual(0);
      expect(swing.contactTimeUs - inside.at(-1)! * 1e6).toBeLessThanOrEqual(5000);
      const durationS = (swing.contactTimeUs - swing.startTimeUs) / 1e6;
      expect(Math.abs(inside.length - durationS / 0.005)).toBeLessThanOrEqual(1);
    }
  });

  it('has unit quaternions whose turning is the rate it gives', () => {
    // The angle from one instant to the next over 5 ms against the rate at both, away from shocks, where the
    // vertical is not being corrected much. The rate is linear between samples, the orientation a slerp: within
    // 0.15 rad/s and 2 %.
    const q = ['w', 'x', 'y', 'z'].map((c) => column(`q_earth_from_forearm_${c}`) as number[]);
    const rate = column('forearm_turn_rate_rad_s') as number[];
    const shock = column('in_shock');
    let checked = 0;
    for (let n = 1; n < rows.length; n++) {
      expect(Math.hypot(...q.map((c) => c[n]!))).toBeCloseTo(1, 9);
      if (shock[n] || shock[n - 1]) continue;
      const cosHalf = Math.abs(q.reduce((sum, c) => sum + c[n]! * c[n - 1]!, 0));
      const turned = (2 * Math.acos(Math.min(1, cosHalf))) / 0.005;
      if (rate[n]! < 1) continue;
      expect(Math.abs(turned - (rate[n]! + rate[n - 1]!) / 2)).toBeLessThan(0.15 + 0.02 * rate[n]!);
      checked++;
    }
    expect(checked).toBeGreaterThan(100);
  });

  it('flags a gap, and has no orientation there', () => {
    const lossy = rowsOf(
      simulatedSet({
        swings: 2,
        errors: { ...DEFAULT_ERRORS, dropout: { atS: 12, lastsS: 1 } },
      }),
    );
    const gaps = lossy.rows.filter((row) => row[at.gap!] === true);
    // A second without data is 200 instants.
    expect(gaps.length).toBeGreaterThan(150);
    for (const row of gaps) {
      expect(row[at.q_earth_from_forearm_w!]).toBeNull();
      expect(row[at.implement_rate_x_rad_s!]).toBeNull();
    }
    for (const row of lossy.rows) {
      if (row[at.gap!] !== true) expect(row[at.q_earth_from_forearm_w!]).not.toBeNull();
    }
  });

  it('has no orientation, but the time, of instants that came faster than the pipeline keeps them', () => {
    // A packet that is never sent again is waited for over 13 s, and then 2600 instants come at once.
    const withheld = records.filter(
      (record) => record.kind === 'notification' && record.segment === 'forearm',
    )[40];
    const waiting = records
      .filter((record) => record !== withheld)
      .map((record): SetRecord => {
        if (record.kind !== 'sensor-info') return record;
        const decoded = decodeSensorInfo(record.bytes);
        if (!decoded.ok) throw new Error(decoded.fault.message);
        return { ...record, bytes: encodeSensorInfo({ ...decoded.info, resendPackets: 300 }) };
      });
    const late = rowsOf({ session, records: waiting });
    expect(late.rows).toHaveLength(late.state.arm.timeline.count);
    const times = late.column('time_s') as number[];
    times.forEach((time, n) => {
      expect(time).toBeCloseTo(times[0]! + 0.005 * n, 9);
    });
    const gone = late.rows.filter((row) => row[at.gap!] === true);
    expect(gone.length).toBeGreaterThan(400);
    for (const row of gone) expect(row[at.q_earth_from_implement_w!]).toBeNull();
  });
});
