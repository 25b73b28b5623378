import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { PerSegment } from '../../src/core/arm/segments.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { LinkedSensors } from '../../src/devices/linked-sensors.ts';
import type { ConnectionState } from '../../src/devices/transport.ts';
import { fakeClock, lostIn, MockSensor, pass, sequencesOf } from './mock-sensor.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function threeSensors() {
  const sensors = new LinkedSensors(fakeClock);
  const records: SetRecord[] = [];
  let states: PerSegment<ConnectionState> | null = null;
  sensors.records$.subscribe((record) => records.push(record));
  sensors.connections$.subscribe((all) => {
    states = all;
  });
  const words = () => Object.values(states ?? {}).map((state) => state.state);
  return { sensors, records, words };
}

const choosing = (sensor: MockSensor) => () => Promise.resolve(sensor);
const cancelled = () => Promise.reject(new DOMException('cancelled', 'NotFoundError'));

describe('linked sensors', () => {
  it('leave the others alone when one fails', async () => {
    const { sensors, words } = threeSensors();
    const broken = new MockSensor({}, 'broken');
    broken.infoBytes = broken.infoBytes.with(0, 9);
    void sensors.connect('upperArm', choosing(new MockSensor({}, 'a')));
    void sensors.connect('forearm', choosing(broken));
    void sensors.connect('implement', choosing(new MockSensor({}, 'c')));
    await pass(100);
    expect(words()).toEqual(['streaming', 'failed', 'streaming']);
  });

  it('keep a link when the coach closes the chooser, and say so when there was none', async () => {
    const { sensors, words } = threeSensors();
    void sensors.connect('upperArm', choosing(new MockSensor()));
    await pass(100);
    await sensors.connect('upperArm', cancelled);
    await sensors.connect('forearm', cancelled);
    expect(words()).toEqual(['streaming', 'failed', 'absent']);
  });

  it('move a sensor that is chosen for another segment', async () => {
    const { sensors, words } = threeSensors();
    const sensor = new MockSensor();
    void sensors.connect('upperArm', choosing(sensor));
    await pass(100);
    void sensors.connect('forearm', choosing(sensor));
    await pass(1000);
    expect(words()).toEqual(['absent', 'streaming', 'absent']);
    expect(sensor.links.map((link) => link.isOpen)).toEqual([false, true]);
  });

  it('never hold two links to one sensor, however often it is chosen', async () => {
    const { sensors, words, records } = threeSensors();
    const sensor = new MockSensor();
    for (const segment of ['upperArm', 'upperArm', 'forearm', 'upperArm', 'forearm'] as const) {
      void sensors.connect(segment, choosing(sensor));
    }
    await pass(5000);
    expect(words()).toEqual(['absent', 'streaming', 'absent']);
    expect(sensor.links.filter((link) => link.isOpen)).toHaveLength(1);
    await sensor.stream(5);
    expect(sequencesOf(records)).toEqual([0, 1, 2, 3, 4]);
  });

  it('open a sensor for its new place only when the old link has let it go', async () => {
    const { sensors } = threeSensors();
    const sensor = new MockSensor();
    void sensors.connect('upperArm', choosing(sensor));
    await pass(100);
    sensor.beforeOpen = async () => expect(sensor.links[0]!.isOpen).toBe(false);
    void sensors.connect('forearm', choosing(sensor));
    await pass(1000);
    expect(sensor.links.map((link) => link.isOpen)).toEqual([false, true]);
  });

  it('give way to another sensor while one does not settle', async () => {
    const { sensors, words } = threeSensors();
    const absent = new MockSensor({}, 'absent');
    absent.beforeOpen = () => new Promise(() => {});
    void sensors.connect('upperArm', choosing(absent));
    await pass(1000);
    expect(words()[0]).toBe('connecting');
    void sensors.connect('upperArm', choosing(new MockSensor({}, 'there')));
    await pass(100);
    expect(words()[0]).toBe('streaming');
  });

  it('keep the books of a sensor that is chosen again', async () => {
    const { sensors, records, words } = threeSensors();
    const sensor = new MockSensor();
    void sensors.connect('upperArm', choosing(sensor));
    await pass(100);
    await sensor.stream(3);
    sensor.beforeOpen = () => Promise.reject(new DOMException('gone', 'NetworkError'));
    sensor.link.close();
    await pass(1000);
    sensor.make();
    sensor.beforeOpen = () => Promise.resolve();
    void sensors.connect('upperArm', choosing(sensor));
    await pass(100);
    expect(words()[0]).toBe('streaming');
    expect(sequencesOf(records)).toEqual([0, 1, 2, 3]);
  });

  it('blink one sensor, and let one go for good', async () => {
    const { sensors, words } = threeSensors();
    const sensor = new MockSensor();
    void sensors.connect('implement', choosing(sensor));
    await pass(100);
    sensors.identify('implement');
    sensors.identify('forearm');
    await pass(100);
    expect(sensor.requestsOf('identify')).toEqual([{ op: 'identify', seconds: 5 }]);
    void sensors.forget('implement');
    await pass(1000);
    expect(words()).toEqual(['absent', 'absent', 'absent']);
    expect(sensor.forgotten).toBe(true);
    expect(sensor.requestsOf('stop')).toHaveLength(1);
  });

  it('say what is lost before the records end', async () => {
    const { sensors, records } = threeSensors();
    const sensor = new MockSensor();
    void sensors.connect('upperArm', choosing(sensor));
    await pass(100);
    sensor.withheld.add(1);
    await sensor.stream(3, [1]);
    const done = vi.fn();
    sensors.records$.subscribe({ complete: done });
    sensor.beforeOpen = () => new Promise(() => {});
    sensor.link.close();
    await pass(500);
    void sensors.close();
    await pass(0);
    expect(lostIn(records)).toEqual([[1, 1]]);
    expect(done).toHaveBeenCalledOnce();
  });
});
