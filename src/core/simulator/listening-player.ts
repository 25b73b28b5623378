import type { Random } from '../maths/random.ts';
import type { Condition, SetEvent } from '../recording/set-record.ts';
import { reachOf } from './arm-kinematics.ts';
import { landBall } from './ball-flight.ts';
import { cutAtRest } from './keyframe-track.ts';
import { conditionOf, kitNamed, lengthsOf } from './kit.ts';
import type { Knock } from './knock.ts';
import { planKnocks } from './plan-knocks.ts';
import { POSES_S, planPoses } from './plan-poses.ts';
import { READY, radians } from './player-poses.ts';
import { streamRandom } from './random-streams.ts';
import type { LandedBall, LaterBlock, SessionOptions, SwingTruth } from './session-types.ts';
import { swingTruth } from './swing-truth.ts';
import { type PlannedMovement, plannedEndS, planSwings, ZERO_REQUEST_S } from './virtual-player.ts';

/** Nothing heard changes the movement sooner than this, seconds: a sensor is at most one packet (60 ms) ahead. */
const REACTION_S = 0.3;
/** From ready to the arm hanging, and from ready to the first contact of a block, seconds. */
const TO_PLUMB_S = 1.4;
const TO_CONTACT_S = 3;
const LANDING_AFTER_S = 0.9;

/**
 * The player who listens to the coach: begins blocks and holds the poses when asked, and stands ready in between,
 * as long as it takes. What is planned before anything is heard is the first block; everything after it is planned
 * when it is asked for. Lists are in order of time; of what has happened nothing changes any more.
 */
export class ListeningPlayer {
  readonly movement: PlannedMovement;
  readonly knocks: Knock[];
  readonly swings: SwingTruth[] = [];
  readonly landings: LandedBall[] = [];
  /** With the kit in hand. */
  #options: SessionOptions;
  /** Implement of the block, in the coach's words. */
  #implement: string;
  readonly #blocksLeft: LaterBlock[];
  /** Balls not played before the poses have been held. */
  #waiting = 0;
  #needsPoses = false;
  /** The arm hangs, for the latest poses, from then on. */
  #plumbS = 0;
  readonly #ready: readonly number[];
  readonly #random: Random;
  readonly #between: Random;

  /** @param movement the poses and the first block, which is `options` @param knocks of that block */
  constructor(options: SessionOptions, movement: PlannedMovement, knocks: Knock[]) {
    this.movement = movement;
    this.knocks = knocks;
    this.#options = options;
    this.#implement = conditionOf(options).implement;
    this.#blocksLeft = [...(options.laterBlocks ?? [])];
    this.#ready = radians(READY, options.handedness === 'left');
    this.#random = streamRandom(options.seed, 'laterBlocks');
    this.#between = streamRandom(options.seed, 'laterInterludes');
    if (this.#blocksLeft.length > 0) movement.endS = Number.POSITIVE_INFINITY;
    this.#addTruth();
  }

  /** Another implement is in hand and waits for the two poses. */
  get needsPoses(): boolean {
    return this.#needsPoses;
  }

  /** From then on the player stands ready and nothing is planned, seconds. */
  get readyS(): number {
    return this.movement.track.timesS.at(-1)!;
  }

  /**
   * What the coach did. A block begun is the next one planned, with the kit that the condition names; with none
   * left, what is left of the present one goes on with that kit. A swing under way, or poses, are finished first.
   * @param atUs true time, microseconds, not before what was heard last
   */
  hear(event: SetEvent, atUs: number): void {
    const atS = atUs / 1e6;
    // The player has gone home.
    if (atS >= this.movement.endS) return;
    if (event.type === 'block-began') this.#beginBlock(event.condition, atS);
    // The poses that are about to be held, or have just been begun, serve as well.
    const serve = !this.#needsPoses && atS <= this.#plumbS + ZERO_REQUEST_S;
    if (event.type === 'zero-requested' && !serve) this.#holdPoses(atS);
  }

  #beginBlock(condition: Condition, atS: number): void {
    if (condition.implement !== this.#implement) this.#needsPoses = true;
    this.#implement = condition.implement;
    this.#options = { ...this.#options, ...kitNamed(condition, this.#options) };
    const left = this.#stop(atS);
    this.#goOn(this.#blocksLeft.shift()?.swings ?? left);
  }

  #holdPoses(atS: number): void {
    const left = this.#stop(atS);
    this.#needsPoses = false;
    this.#plumbS = this.readyS + TO_PLUMB_S;
    planPoses(this.movement.track, this.#options, this.#random, this.#plumbS, null);
    this.#goOn(left);
  }

  /**
   * Forgets what was planned, as soon as the player can stand ready.
   * @returns balls that were still to be played
   */
  #stop(atS: number): number {
    const { track, swings, interludes } = this.movement;
    const fromS = Math.max(atS + REACTION_S, this.#plumbS + POSES_S);
    const readyS = cutAtRest(track, fromS, this.#ready);
    const dropped = dropAfter(swings, ({ contactS }) => contactS, readyS);
    dropAfter(interludes, ({ toS }) => toS, readyS);
    dropAfter(this.knocks, (knock) => knock.atS, readyS);
    this.swings.length = this.landings.length = swings.length;
    return dropped + this.#waiting;
  }

  /** From ready: plays so many balls, now or once the poses have been held. */
  #goOn(swings: number): void {
    const { movement, readyS } = this;
    this.#waiting = this.#needsPoses ? swings : 0;
    if (!this.#needsPoses) this.#play(readyS + TO_CONTACT_S, swings);
    const isOver = this.#waiting === 0 && this.#blocksLeft.length === 0;
    movement.endS = isOver ? plannedEndS(movement, readyS) : Number.POSITIVE_INFINITY;
  }

  #play(firstContactS: number, count: number): void {
    const { movement } = this;
    const before = { swings: movement.swings.length, interludes: movement.interludes.length };
    planSwings(movement, this.#options, this.#random, this.#between, firstContactS, count);
    const added = {
      swings: movement.swings.slice(before.swings),
      interludes: movement.interludes.slice(before.interludes),
    };
    this.knocks.push(...planKnocks(added, this.#random));
    this.#addTruth();
  }

  /** What becomes of the swings planned last, with the implement in hand. */
  #addTruth(): void {
    const { movement } = this;
    const lengthsM = lengthsOf(this.#options);
    const bestM = reachOf(movement.idealContact, lengthsM);
    for (const { contactS, timingErrorS } of movement.swings.slice(this.swings.length)) {
      const truth = swingTruth(movement, lengthsM, contactS);
      const { contactTimeUs, reachM } = truth;
      this.swings.push(truth);
      this.landings.push({
        hostTimeUs: contactTimeUs + LANDING_AFTER_S * 1e6,
        landing: landBall(contactTimeUs, reachM - bestM, timingErrorS),
      });
    }
  }
}

/** Drops what comes after a time. @param items in order of time @returns how many */
function dropAfter<T>(items: T[], timeOf: (item: T) => number, timeS: number): number {
  const kept = items.findLastIndex((item) => timeOf(item) <= timeS) + 1;
  return items.splice(kept).length;
}
