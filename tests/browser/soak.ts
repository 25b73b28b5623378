/**
 * Simulated sets in a real Chromium for hours, with links that drop, packets that get lost, clocks that step, hidden and
 * frozen tabs, reloads and full storage: `npm run soak -- [hours] [speed]`, two hours at 20 times the speed of life
 * unless said. Then accounts for every packet and swing, and for memory. Exit code 1 when anything is unexplained.
 */
import { findChromium } from './find-chromium.ts';
import { printReport } from './soak/report.ts';
import { serveSoakApp } from './soak/soak-app.ts';
import { planSoak } from './soak/soak-plan.ts';
import { type PlayedSet, Soak } from './soak/soak-run.ts';

const FIRST_SEED = 4001;

const hours = Number(process.argv[2] ?? 2);
const speed = Number(process.argv[3] ?? 20);
if (!(hours > 0 && speed > 0)) throw new Error('usage: npm run soak -- [hours] [speed]');
const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');

const app = await serveSoakApp();
try {
  const soak = await Soak.open(chromiumPath, app.baseUrl);
  try {
    const before = await soak.held();
    const played: PlayedSet[] = [];
    const stopped: string[] = [];
    for (const plan of planSoak(hours * 3600, speed, FIRST_SEED)) {
      const set = await soak.play(plan).catch((error: unknown) => {
        stopped.push(`set ${played.length + 1} was not played to its end: ${error}`);
        return null;
      });
      // The sets before it still tell something.
      if (set === null) break;
      played.push(set);
      const { troubles, ending, endS, air } = plan;
      const words = [...troubles.map(({ what }) => what), ending].join(', ');
      const got = (endS / set.tookS).toFixed(1);
      console.log(`set ${played.length}: ${air.drops.length} drops, ${words}; ${got} times life`);
    }
    const isSound = printReport(before, played, [...soak.errors(), ...stopped]);
    process.exitCode = isSound ? 0 : 1;
  } finally {
    await soak.close();
  }
} finally {
  await app.close();
}
