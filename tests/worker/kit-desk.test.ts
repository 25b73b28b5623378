import { describe, expect, it } from 'vitest';
import { encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { readCalibrations } from '../../src/core/recording/calibration-json.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { benchHardware } from '../../src/core/simulator/bench-hardware.ts';
import { BENCH, simulateBench } from '../../src/core/simulator/simulated-bench.ts';
import { SWINGING_RACKET, simulateSwings } from '../../src/core/simulator/swinging-implement.ts';
import type { KitChange } from '../../src/storage/kit.ts';
import { StorageError } from '../../src/storage/storage-error.ts';
import type { FromWorker } from '../../src/worker/contract.ts';
import { isForKitDesk, KitDesk } from '../../src/worker/kit-desk.ts';
import { madePackets } from '../kit/made-packets.ts';

const SERIAL = 'fedcba9876543210';
const library = { players: [], implements: [], balls: [] };

function openDesk() {
  const told: FromWorker[] = [];
  const changes: KitChange[] = [];
  const desk = new KitDesk(
    (message) => told.push(message),
    {
      change: async (change) => {
        if (change.type === 'forget-ball') throw new StorageError('storage-full', 'Full.');
        changes.push(change);
      },
      library: async () => library,
      calibrations: async () => [],
    },
    () => 5000,
  );
  return { desk, told, changes };
}

/** As a link hands them on. */
function recordsOf(recording: Parameters<typeof benchHardware>[0]): SetRecord[] {
  const hardware = benchHardware(recording, SERIAL);
  const at = { segment: 'implement', hostTimeUs: 0 } as const;
  return [
    { kind: 'sensor-info', ...at, bytes: encodeSensorInfo(hardware.info) },
    ...madePackets(hardware).map(
      ({ packet }) => ({ kind: 'notification', ...at, bytes: encodeStreamPacket(packet) }) as const,
    ),
  ];
}

describe('the kit desk', () => {
  it('answers a change with what is known now, and trouble when it was not kept', async () => {
    const { desk, told, changes } = openDesk();
    const implement = { implement: 'bat', lengthM: 0.5, sensorM: 0.1, seenMs: 1 };
    await desk.receive({ type: 'keep-implement', implement });
    await desk.receive({ type: 'forget-ball', ball: 'soft' });
    await desk.receive({ type: 'forget-calibration', serial: SERIAL });
    expect(changes.map(({ type }) => type)).toEqual(['keep-implement', 'forget-calibration']);
    expect(told).toMatchObject([
      { type: 'library' },
      { type: 'trouble', trouble: { code: 'storage-full' } },
      { type: 'calibrations', calibrations: [] },
    ]);
  });

  it('leaves what is of sets to the sets', () => {
    expect(isForKitDesk({ type: 'keep-player' })).toBe(false);
    expect(isForKitDesk({ type: 'append' })).toBe(false);
    expect(isForKitDesk({ type: 'bench-append' })).toBe(true);
  });

  it('calibrates a sensor from its bytes, in a form that a set takes', async () => {
    const { desk, told } = openDesk();
    const { recording, truth } = simulateBench({ ...BENCH, seed: 3 });
    await desk.receive({ type: 'bench-begin', purpose: 'calibration' });
    const records = recordsOf(recording);
    for (let i = 0; i < records.length; i += 100) {
      await desk.receive({ type: 'bench-append', records: records.slice(i, i + 100) });
    }
    expect(told.at(0)).toMatchObject({ type: 'bench-look', look: { step: 'first-rest' } });
    expect(told.at(-1)).toMatchObject({
      type: 'bench-look',
      serial: SERIAL,
      look: { step: 'positions' },
    });
    await desk.receive({ type: 'bench-calibrate' });
    const last = told.at(-1)!;
    if (last.type !== 'bench-calibrated' || !last.outcome.ok) throw new Error('no calibration');
    const { row } = last.outcome;
    expect(row).toMatchObject({ serial: SERIAL, calibratedMs: 5000 });
    expect(readCalibrations([row], 'here')[0]?.calibration).toEqual(row.calibration);
    // truth of the part: a bias of the gyroscope to 0.01 deg/s
    row.calibration.gyroscope.bias.forEach((bias, k) => {
      expect(Math.abs(bias - truth.gyroBias[k]!)).toBeLessThan(2e-4);
    });
  });

  it('says why there is no calibration', async () => {
    const { desk, told } = openDesk();
    await desk.receive({ type: 'bench-calibrate' });
    expect(told.at(-1)).toMatchObject({ outcome: { ok: false } });
    await desk.receive({ type: 'bench-begin', purpose: 'calibration' });
    const { recording } = simulateBench({ ...BENCH, rests: 5 });
    await desk.receive({ type: 'bench-append', records: recordsOf(recording) });
    await desk.receive({ type: 'bench-calibrate' });
    expect(told.at(-1)).toMatchObject({ outcome: { ok: false, fault: { code: 'too-few-rests' } } });
    await desk.receive({ type: 'bench-over' });
    await desk.receive({ type: 'bench-calibrate' });
    expect(told.at(-1)).toMatchObject({
      outcome: { fault: { message: expect.stringContaining('Connect it first') } },
    });
  });

  it('times a swinging implement', async () => {
    const { desk, told } = openDesk();
    await desk.receive({ type: 'bench-begin', purpose: 'swings' });
    await desk.receive({
      type: 'bench-append',
      records: recordsOf(simulateSwings(SWINGING_RACKET)),
    });
    const last = told.at(-1)!;
    if (last.type !== 'bench-swings' || !last.period.ok) throw new Error('no period');
    // 2 pi sqrt(0.028 / (0.24 g 0.29)), by hand
    expect(last.period.periodS).toBeCloseTo(1.2725, 3);
  });
});
