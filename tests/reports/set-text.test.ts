import { describe, expect, it } from 'vitest';
import { summariseFunnel } from '../../src/core/measures/funnel.ts';
import type { LiveView, ScoredSwing, SensorHealth } from '../../src/core/pipeline/outputs.ts';
import type { Condition } from '../../src/core/recording/set-record.ts';
import type { Swing } from '../../src/core/swings/swing.ts';
import { setText } from '../../src/reports/set-text.ts';
import { sampleDescription } from '../recording/sample-set.ts';

const health: SensorHealth = {
  packets: 10,
  samples: 100,
  waitingPackets: 0,
  leastDelayMs: 6,
  clockHalfWidthMs: 1,
  lostPackets: 1,
  refusedPackets: 0,
  lastFault: null,
  clippedSamples: 2,
  rateHz: 199.96,
  delaySpreadMs: Number.NaN,
  lastArrivalUs: 0,
};

function swing(index: number, reachM: number, voidReason: Swing['voidReason'] = null): Swing {
  const known = voidReason === null ? reachM : Number.NaN;
  return {
    index,
    contactTimeUs: 1e6 * (index + 1),
    startTimeUs: 1e6 * (index + 1) - 250_000,
    voidReason,
    reachM: known,
    reachStandardErrorM: 0.004,
    horizontalReachM: known,
    frontalReachM: known,
    sagittalReachM: known,
    sweetSpotSpeedMS: 12,
    courtHeadingKnown: true,
    peakImplementRateRadS: 20,
    contactImplementRateRadS: Math.PI,
    clippedSamples: 0,
    interpolatedSamples: 0,
  };
}

const CONDITION: Condition = {
  implement: 'short racket',
  ball: 'training',
  feed: '',
  implementLengthM: 0.55,
  implementSensorFromWristM: 0.12,
  sweetSpotBand: null,
};

/** A swing the coach said nothing more of. */
function said(swing: Swing, points: number | null, change: Partial<ScoredSwing> = {}): ScoredSwing {
  return {
    swing,
    foundContactUs: swing.contactTimeUs,
    block: 0,
    points,
    discarded: false,
    discardReason: null,
    landingM: null,
    endsMoved: false,
    cued: false,
    ...change,
  };
}

function view(swings: ScoredSwing[]): LiveView {
  return {
    hostTimeUs: 9e6,
    sensors: { upperArm: health, forearm: health, implement: health },
    shake: { phase: 'none' },
    zero: { phase: 'zeroed', atTimeUs: 0 },
    blocks: [CONDITION],
    swings,
    pose: null,
    notes: [],
    isReview: true,
    funnel: summariseFunnel(
      swings
        .filter((s) => !s.discarded && s.swing.voidReason === null)
        .map(({ swing: { reachM } }) => ({
          reachCurveM: new Float64Array(101).fill(reachM),
          reachCurveNoiseM: new Float64Array(101).fill(0.004),
        })),
    ),
  };
}

describe('setText', () => {
  const text = setText(
    view([
      said(swing(0, 0.9), 5),
      said(swing(1, 0.92), null, { endsMoved: true }),
      said(swing(2, 0, 'sensor-gap'), null),
      said(swing(3, 0.8), 0, { discarded: true, discardReason: 'the ball hit the net' }),
    ]),
    sampleDescription,
  );

  it('shows each swing in centimetres and degrees per second', () => {
    // 20 rad/s = 1146 deg/s, pi rad/s = 180 deg/s; 250 ms from start to contact.
    expect(text).toMatch(/^ +1 +1\.000 +90\.00 +0\.40 +250 +1146 +180 +5$/m);
    expect(text).toMatch(/^ +2 +2\.000 +92\.00 +0\.40 +250 +1146 +180 +-/m);
  });

  it('says why a swing is left out', () => {
    expect(text).toContain('swing 3: void, a sensor missed samples during the swing');
    expect(text).toContain('swing 4: discarded by the coach, the ball hit the net');
  });

  it('says whose ends were moved by hand', () => {
    expect(text).toMatch(/^ +2 .* ends moved$/m);
  });

  it('names the condition of each block, and of the funnel, when there is more than one', () => {
    expect(text).not.toContain('block');
    const longer = { ...CONDITION, implement: 'full racket', feed: 'dropped' };
    const two = setText(
      { ...view([said(swing(0, 0.9), 5)]), blocks: [CONDITION, longer] },
      sampleDescription,
    );
    expect(two).toContain('block 1: short racket, training');
    expect(two).toContain('block 2: full racket, training, dropped');
    expect(two).toMatch(/Funnel.*full racket/);
  });

  it('shows the funnel at every 10 % with its n', () => {
    expect(text).toContain('(n = 2)');
    // Mean of 90 and 92 is 91; SD is 2/sqrt(2) = 1.41; floor is the common noise.
    for (let percent = 0; percent <= 100; percent += 10) {
      expect(text).toMatch(new RegExp(`^ +${percent} +91\\.00 +1\\.41 +0\\.40$`, 'm'));
    }
  });

  it('marks lengths that were estimated from stature, and only those', () => {
    expect(text).not.toContain('stature');
    const estimated = setText(view([]), { ...sampleDescription, armEstimatedFromStatureM: 1.28 });
    expect(estimated).toContain('estimated from a stature of 128.00 cm');
  });

  it('never shows NaN', () => {
    expect(text).not.toContain('NaN');
    expect(setText(view([]), sampleDescription)).not.toContain('NaN');
  });

  it('says how many swings are missing for a funnel', () => {
    const one = setText(view([said(swing(0, 0.9), 1)]), sampleDescription);
    expect(one).toContain('at least 2 swings with a reach: 1 more');
  });
});
