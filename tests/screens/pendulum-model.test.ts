import { BehaviorSubject, Subject } from 'rxjs';
import { describe, expect, it } from 'vitest';
import type { PerSegment } from '../../src/core/arm/segments.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import type { ConnectionState, Transport } from '../../src/devices/transport.ts';
import { createBenchLink } from '../../src/screens/kit/bench-link.ts';
import { createCalibrateModel } from '../../src/screens/kit/calibrate-model.ts';
import { NEW_IMPLEMENT } from '../../src/screens/kit/implement-entry.ts';
import {
  createPendulumModel,
  measuredInertia,
  weakestWords,
} from '../../src/screens/kit/pendulum-model.ts';
import { fakeClient } from './fake-client.ts';

const ABSENT: PerSegment<ConnectionState> = {
  upperArm: { state: 'absent' },
  forearm: { state: 'absent' },
  implement: { state: 'absent' },
};

function fakeTransport() {
  const records = new Subject<SetRecord>();
  const connections = new BehaviorSubject(ABSENT);
  const done: string[] = [];
  const transport: Transport = {
    records$: records,
    connections$: connections,
    startTimeline: () => void done.push('start'),
    connect: async () => void done.push('connect'),
    identify: () => {},
    forget: async () => {},
    nowUs: () => 0,
    close: async () => void done.push('close'),
  };
  return { transport, records, connections, done };
}

function openModels() {
  const worker = fakeClient();
  const air = fakeTransport();
  const link = createBenchLink(worker.client, 'swings', () => air.transport);
  return { worker, air, link };
}

/** A rod of 68 cm and 300 g: T = 2 pi sqrt(I / (m g d)), I = m (L^2 / 12 + d^2), about 2 cm from its end. */
const rod = { ...NEW_IMPLEMENT, totalLengthCm: 68, massG: 300, balancePointCm: 34 };
const D = 0.32;
const ROD_S = 2 * Math.PI * Math.sqrt((0.68 ** 2 / 12 + D ** 2) / (9.80665 * D));
/** About 10 cm from the end. */
const ROD_KGM2 = 0.3 * (0.68 ** 2 / 12 + 0.24 ** 2);

describe('the pendulum assistant', () => {
  it('times by two taps', () => {
    const { worker, link } = openModels();
    const model = createPendulumModel(worker.client, link);
    expect(model.inertiaOf(rod)).toBeNull();
    model.tap(1000);
    expect(model.startedMs.value).toBe(1000);
    model.tap(1000 + 20_000 * ROD_S);
    expect(model.startedMs.value).toBeNull();
    const answer = model.inertiaOf(rod);
    if (!answer?.ok) throw new Error('no inertia');
    // the swing of 7 degrees takes 0.1 % off the period
    expect(answer.inertiaKgM2 / ROD_KGM2).toBeCloseTo(1, 2);
    expect(answer.interval[0]).toBeLessThan(ROD_KGM2);
    expect(answer.interval[1]).toBeGreaterThan(ROD_KGM2);
    expect(weakestWords(answer)).toContain('Most of the uncertainty');
    expect(measuredInertia(answer, 10, 5)).toMatchObject({ axisM: 0.1, measuredMs: 5 });
  });

  it('says when the count was wrong, and begins again with the next tap', () => {
    const { worker, link } = openModels();
    const model = createPendulumModel(worker.client, link);
    model.tap(0);
    model.tap(10_000 * ROD_S);
    expect(model.inertiaOf(rod)).toMatchObject({ ok: false });
    model.tap(0);
    expect(model.inertiaOf(rod)).toBeNull();
  });

  it('takes the period that the sensor felt', () => {
    const { worker, link, air } = openModels();
    const model = createPendulumModel(worker.client, link);
    model.change({ timedBy: 'sensor' });
    link.connect('simulated');
    expect(air.done).toEqual(['start', 'connect']);
    expect(link.source.value).toBe('simulated');
    air.records.next({ kind: 'event', hostTimeUs: 0, event: { type: 'zero-requested' } });
    expect(worker.asked.map(({ type }) => type)).toEqual(['bench-begin', 'bench-append']);
    worker.answer({ type: 'bench-swings', period: { ok: false, swings: 3, reason: 'More.' } });
    expect(model.inertiaOf(rod)).toBeNull();
    worker.answer({
      type: 'bench-swings',
      period: { ok: true, swings: 20, periodS: ROD_S, periodSE: 1e-4, amplitudeRad: [0.1, 0.05] },
    });
    const answer = model.inertiaOf(rod);
    expect(answer?.ok && answer.inertiaKgM2 / ROD_KGM2).toBeCloseTo(1, 6);
    model.dispose();
    expect(link.source.value).toBeNull();
    expect(air.done.at(-1)).toBe('close');
    expect(worker.asked.at(-1)).toEqual({ type: 'bench-over' });
  });
});

describe('the calibration of a sensor', () => {
  const look = (positions: number) =>
    ({
      type: 'bench-look',
      serial: 'a',
      look: { step: 'positions', positions, needed: 12, sidesUsed: [], next: null, now: null },
    }) as const;

  it('can be solved once there are enough positions, and is kept when storage says so', () => {
    const { worker, link } = openModels();
    const model = createCalibrateModel(worker.client, link);
    model.connect('bluetooth');
    worker.answer(look(11));
    model.solve();
    expect(model.isSolving.value).toBe(false);
    worker.answer(look(12));
    model.solve();
    expect(model.isSolving.value).toBe(true);
    expect(worker.asked.at(-1)).toEqual({ type: 'bench-calibrate' });
    const row = { serial: 'a', calibration: {} as never, calibratedMs: 7 };
    worker.answer({ type: 'bench-calibrated', outcome: { ok: true, row, gain: null } });
    expect(model.isSolving.value).toBe(false);
    model.keep();
    expect(worker.asked.at(-1)).toEqual({ type: 'keep-calibration', calibration: row });
    expect(model.isKept.value).toBe(false);
    worker.answer({ type: 'calibrations', calibrations: [{ ...row, calibratedMs: 6 }] });
    expect(model.isKept.value).toBe(false);
    worker.answer({ type: 'calibrations', calibrations: [row] });
    expect(model.isKept.value).toBe(true);
  });

  it('is never kept of a simulated sensor, which is nobody’s', () => {
    const { worker, link } = openModels();
    const model = createCalibrateModel(worker.client, link);
    model.connect('simulated');
    const row = { serial: 'a', calibration: {} as never, calibratedMs: 7 };
    worker.answer({ type: 'bench-calibrated', outcome: { ok: true, row, gain: null } });
    expect(model.isTrial.value).toBe(true);
    model.keep();
    expect(worker.asked.map(({ type }) => type)).toEqual(['bench-begin']);
  });

  it('begins with the first rest again when asked to', () => {
    const { worker, link } = openModels();
    const model = createCalibrateModel(worker.client, link);
    model.connect('simulated');
    worker.answer(look(12));
    model.beginAgain();
    expect(model.look.value).toBeNull();
    expect(worker.asked.at(-1)).toEqual({ type: 'bench-begin', purpose: 'swings' });
  });
});
