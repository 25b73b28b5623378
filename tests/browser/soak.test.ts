import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { ServedApp } from './serve-app.ts';
import { beyondBounds } from './soak/memory-bounds.ts';
import { accountOf } from './soak/report.ts';
import { serveSoakApp } from './soak/soak-app.ts';
import { type SetPlan, sensorsOf } from './soak/soak-plan.ts';
import { type PlayedSet, Soak } from './soak/soak-run.ts';

const underTest = inject('browserUnderTest');
/** More than a machine keeps up with: the simulation goes on as fast as it can. */
const SPEED = 20;

/** Two minutes with full storage and one of each fault: the drop of 20 s is longer than a sensor's memory. */
function troubledSet(): SetPlan {
  const player = { seed: 12, swings: 20, lossFraction: 0.02 };
  const { hardware, endUs } = sensorsOf(player);
  const serialOf = (k: number) => hardware[k]!.info.serial;
  const drops = [
    { serial: serialOf(0), atS: 30, lastsS: 6 },
    { serial: serialOf(2), atS: 60, lastsS: 20 },
  ];
  return {
    air: { ...player, speed: SPEED, drops },
    troubles: [
      { atS: 12, what: 'storage-full' },
      { atS: 13, what: 'clock-back' },
      { atS: 14, what: 'hidden' },
      { atS: 40, what: 'frozen' },
      { atS: 50, what: 'clock-forward' },
    ],
    ending: 'played-out',
    endS: endUs / 1e6 + 1.5,
  };
}

function reloadedSet(): SetPlan {
  const air = { seed: 13, swings: 12, lossFraction: 0.02, speed: SPEED, drops: [] };
  return { air, troubles: [], ending: 'reloaded', endS: 40 };
}

describe.skipIf(underTest === null)('simulated sets with every fault at once', () => {
  let app: ServedApp;
  let soak: Soak;
  beforeAll(async () => {
    app = await serveSoakApp();
    soak = await Soak.open(underTest!.chromiumPath, app.baseUrl);
  });
  afterAll(async () => {
    await soak.close();
    await app.close();
  });

  it('lose no packet and no swing without a reason, and keep nothing', async () => {
    const before = await soak.held();
    const played: PlayedSet[] = [];
    for (const plan of [troubledSet(), reloadedSet()]) played.push(await soak.play(plan));
    const [troubled, reloaded] = played.map(accountOf);
    expect(troubled!.unexplained).toEqual([]);
    expect(troubled!.toldLost, 'the long drop loses something').toBeGreaterThan(20);
    expect(troubled!.swings).toBeGreaterThanOrEqual(20 - troubled!.missedInGaps);
    expect(reloaded!.unexplained).toEqual([]);
    expect(reloaded!.swings).toBeGreaterThanOrEqual(2);
    expect(beyondBounds(before, played)).toEqual([]);
    expect(soak.errors()).toEqual([]);
  });
});
