import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { firstCondition } from '../../src/core/recording/conditions.ts';
import type { SetEvent, SetRecord } from '../../src/core/recording/set-record.ts';
import { conditionOf } from '../../src/core/simulator/kit.ts';
import type { BallLanding, SessionOptions } from '../../src/core/simulator/session-types.ts';
import { fourBlocks, sessionOptions } from '../../src/devices/simulated-player.ts';
import { createSimulatedTransport } from '../../src/devices/simulated-transport.ts';
import { turn } from './simulated-ticks.ts';

// Only timers and clock are faked: what the simulation itself waits for stays real.
beforeEach(
  () => void vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'performance'] }),
);
afterEach(() => void vi.useRealTimers());

const head = { setId: 's', startedAtMs: 1234, programVersion: 'test' };
const PLAYER = { strategy: 'distal', implement: 'short', ball: 'training' } as const;
const SHORT = { implement: 'short', ball: 'training' } as const;
const FULL = { implement: 'full', ball: 'standard' } as const;
const describeSet = (options: SessionOptions) =>
  createSimulatedTransport({ options, speed: 1, head }).description;

describe('a simulated set of several blocks', () => {
  it('is described with its plan: ABBA of ten, beginning with the kit chosen', () => {
    const description = describeSet(fourBlocks(PLAYER, 1));
    expect(description.plan).toEqual({
      task: 'Forehand drive',
      target: null,
      conditions: [conditionOf(SHORT), conditionOf(FULL)],
      blocks: [0, 1, 1, 0],
      order: 'mirrored',
      orderSeed: null,
      swingsPerBlock: 10,
      feedback: { cue: 'none', isOnlyOffBand: false, isFading: false },
      cautionsConfirmedAtMs: 1234,
    });
    expect(description.plan!.conditions[0]).toEqual(firstCondition(description));
    const full = describeSet(fourBlocks({ ...PLAYER, ...FULL }, 1));
    expect(full.plan!.conditions).toEqual([conditionOf(FULL), conditionOf(SHORT)]);
    const long = { implement: 'long', ball: 'standard' } as const;
    const other = describeSet(fourBlocks({ ...PLAYER, ...long }, 1));
    expect(other.plan!.conditions).toEqual([conditionOf(long), conditionOf(SHORT)]);
  });

  it('has no plan when it is one block, and says of other orders that they are as listed', () => {
    expect(describeSet(sessionOptions(PLAYER, 1))).not.toHaveProperty('plan');
    const once = { ...FULL, swings: 40 };
    const listed = describeSet({ ...sessionOptions(PLAYER, 1), laterBlocks: [once] });
    expect(listed.plan).toMatchObject({ blocks: [0, 1], order: 'as-listed', swingsPerBlock: 40 });
  });

  it('refuses blocks of different sizes', () => {
    const laterBlocks = [{ ...FULL, swings: 3 }];
    expect(() => describeSet({ ...sessionOptions(PLAYER, 1), laterBlocks })).toThrow(
      'all blocks of a planned set have one size: the first has 40 swings, a later one 3',
    );
  });

  it('waits for the coach, however late, takes the poses when asked and again in the middle of a block', async () => {
    const transport = createSimulatedTransport({
      options: {
        ...sessionOptions(PLAYER, 21),
        swings: 2,
        swingIntervalS: 4,
        laterBlocks: [FULL, FULL, SHORT].map((kit) => ({ ...kit, swings: 2 })),
      },
      speed: 40,
      head,
    });
    const records: SetRecord[] = [];
    const balls: BallLanding[] = [];
    let isOver = false;
    transport.records$.subscribe((record) => records.push(record));
    transport.landings$.subscribe({
      next: (ball) => balls.push(ball),
      complete: () => {
        isOver = true;
      },
    });
    const untilBalls = async (count: number): Promise<void> => {
      const giveUpUs = transport.nowUs() + 60e6;
      while (balls.length < count && transport.nowUs() < giveUpUs) await turn(transport, 1);
      expect(balls.length).toBe(count);
    };
    const wait = async (seconds: number): Promise<void> => {
      const untilUs = transport.nowUs() + seconds * 1e6;
      while (transport.nowUs() < untilUs) await turn(transport, 1);
    };
    const coach = (event: SetEvent): void => {
      records.push({ kind: 'event', hostTimeUs: transport.nowUs(), event });
      transport.hear(event);
    };

    transport.startTimeline();
    await untilBalls(2);
    await wait(15);
    expect([balls.length, isOver]).toEqual([2, false]);
    coach({ type: 'block-began', condition: conditionOf(FULL) });
    await wait(10);
    expect(balls.length).toBe(2);
    coach({ type: 'zero-requested' });
    await untilBalls(4);
    coach({ type: 'block-began', condition: conditionOf(FULL) });
    await untilBalls(5);
    const zeroedAgainUs = transport.nowUs();
    coach({ type: 'zero-requested' });
    await untilBalls(6);
    expect(balls[5]!.contactTimeUs - zeroedAgainUs).toBeGreaterThan(11e6);
    coach({ type: 'block-began', condition: conditionOf(SHORT) });
    await wait(1);
    coach({ type: 'zero-requested' });
    await untilBalls(8);
    expect(isOver).toBe(false);
    await wait(5);
    expect(isOver).toBe(true);

    const state = createPipeline(transport.description);
    for (const record of records) stepPipeline(state, record);
    const { swings, blocks } = viewPipeline(state);
    expect(blocks.length).toBe(4);
    expect(swings.map(({ block }) => block)).toEqual([0, 0, 1, 1, 2, 2, 3, 3]);
    expect(swings.map(({ swing }) => swing.voidReason)).toEqual(swings.map(() => null));
    const meanReach = (block: number) =>
      swings.reduce((sum, s) => sum + (s.block === block ? s.swing.reachM! / 2 : 0), 0);
    // another racket is 10 cm longer; spread of two swings with its error, and the bent arm: 5 cm at least
    expect(meanReach(1) - meanReach(0)).toBeGreaterThan(0.05);
    expect(meanReach(2) - meanReach(3)).toBeGreaterThan(0.05);
    swings.forEach(({ swing }, i) => {
      expect(Math.abs(swing.contactTimeUs - balls[i]!.contactTimeUs)).toBeLessThan(8000);
    });
  }, 60_000);
});
