import { Subject } from 'rxjs';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { openReplay } from '../../src/screens/replay/replay-model.ts';
import type { WorkerClient } from '../../src/screens/worker-client.ts';
import type { FromWorker, ToKitDesk, ToWorker } from '../../src/worker/contract.ts';
import { sampleDescription } from '../recording/sample-set.ts';

const END_US = 60e6;
let messages: Subject<FromWorker>;
let asked: (ToWorker | ToKitDesk)[];
let client: WorkerClient;

beforeEach(() => {
  vi.useFakeTimers();
  messages = new Subject();
  asked = [];
  client = {
    messages$: messages,
    post: (message) => asked.push(message),
    append: () => {
      throw new Error('a replay records nothing');
    },
  };
});
afterEach(() => vi.useRealTimers());

const nothing = (hostTimeUs: number) => ({ hostTimeUs, swings: [], sensors: {}, funnel: null });

/** The worker answers each question at once. */
function opened(viewAt: (hostTimeUs: number) => object = nothing) {
  const replay = openReplay(client, sampleDescription.setId, () => Date.now());
  client.post = (message) => {
    asked.push(message);
    if (message.type === 'replay-to') {
      messages.next({ type: 'live', view: viewAt(message.hostTimeUs) as never });
    }
  };
  messages.next({ type: 'replay-ready', description: sampleDescription, endUs: END_US });
  return { replay, model: replay.model.value! };
}

it('plays as fast as is asked, pauses, and stops at the end', () => {
  const { model, replay } = opened();
  expect(asked[0]).toEqual({ type: 'replay-set', setId: sampleDescription.setId });
  vi.advanceTimersByTime(2000);
  expect(model.nowUs.value / 1e6).toBeCloseTo(2, 0);
  model.setSpeed(8);
  vi.advanceTimersByTime(2000);
  expect(model.nowUs.value / 1e6).toBeCloseTo(18, 0);
  model.pause();
  vi.advanceTimersByTime(5000);
  expect(model.nowUs.value / 1e6).toBeCloseTo(18, 0);
  model.play();
  vi.advanceTimersByTime(10_000);
  expect(model.nowUs.value).toBe(END_US);
  expect(model.isPlaying.value).toBe(false);
  model.play();
  expect(model.nowUs.value).toBe(0);
  replay.dispose();
  expect(asked.at(-1)).toEqual({ type: 'replay-over' });
});

it('goes to any place, never outside the set', () => {
  const { model } = opened();
  model.goTo(30e6);
  expect(asked.at(-1)).toEqual({ type: 'replay-to', hostTimeUs: 30e6 });
  model.goTo(1e9);
  expect(model.nowUs.value).toBe(END_US);
  model.goTo(-5);
  expect(model.nowUs.value).toBe(0);
});

it('says that it is over at the end instead of calling the sensors silent', () => {
  const heard = (lastArrivalUs: number) => ({
    packets: 100,
    lostPackets: 0,
    refusedPackets: 0,
    waitingPackets: 0,
    lastArrivalUs,
    lastFault: null,
  });
  const { model } = opened((hostTimeUs) => {
    // The sensors were let go of five seconds before the coach ended the set.
    const health = heard(Math.min(hostTimeUs, END_US - 5e6));
    return {
      hostTimeUs,
      swings: [],
      sensors: { upperArm: health, forearm: health, implement: health },
    };
  });
  model.goTo(30e6);
  expect(model.view.sensors.value.forearm.short).toBe('good');
  model.goTo(END_US - 1e6);
  expect(model.view.sensors.value.forearm.short).toBe('silent');
  model.goTo(END_US);
  expect(model.view.sensors.value.forearm).toEqual({
    level: 'waiting',
    short: 'replay over',
    advice: null,
  });
  model.goTo(30e6);
  expect(model.view.sensors.value.forearm.short).toBe('good');
});
