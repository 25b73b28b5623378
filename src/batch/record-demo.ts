import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { summariseFunnel } from '../core/measures/funnel.ts';
import { blocksByCondition } from '../core/pipeline/blocks.ts';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import { reviewedSwings } from '../core/pipeline/reviewed-swings.ts';
import { decideSets } from './decide-sets.ts';
import {
  DEMO_PLAYERS,
  type DemoPlayer,
  type DemoSet,
  PLAYER_A_SETS,
  setsOf,
} from './demo-players.ts';
import { type MadeSet, makeDemoSet } from './make-demo-set.ts';

const FOLDER = 'recorded-streams';
const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };

/** Writes a set and, beside it, where it comes from and what is known of it. */
function write(demo: DemoSet, made: MadeSet, more: object): void {
  const { name, options } = demo;
  writeFileSync(`${FOLDER}/${name}.mcap`, made.file);
  const provenance = {
    comment: 'Simulated, invented: no person swung here. Made by `npm run record-demo`.',
    programVersion: version,
    options,
    truth: {
      comment: "The simulator's truth: contacts in seconds, reach at contact in metres.",
      contactS: made.truth.swings.map((swing) => round(swing.contactTimeUs / 1e6, 4)),
      reachM: made.truth.swings.map((swing) => round(swing.reachM, 4)),
    },
    measuredWhenMade: measured(made),
    ...more,
  };
  writeFileSync(`${FOLDER}/${name}.json`, `${JSON.stringify(provenance, null, 2)}\n`);
  console.log(`${FOLDER}/${name}.mcap  ${(made.file.length / 1e6).toFixed(2)} MB`);
}

/** With hindsight, of each condition. */
function measured({ description, records }: MadeSet) {
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
  const { conditions } = state.blocks;
  return blocksByCondition(conditions).map(([first]) => {
    const { implement, ball } = conditions[first!]!;
    const swings = reviewedSwings(state, first!).filter((swing) => swing !== null);
    const { spreadM } = summariseFunnel(swings);
    const points = swings.map((swing) => swing.points ?? Number.NaN);
    return {
      implement,
      ball,
      swings: swings.length,
      meanPoints: round(points.reduce((sum, x) => sum + x, 0) / points.length, 2),
      spreadCm: [0, 25, 50, 75, 100].map((percent) => round(100 * spreadM[percent]!, 2)),
    };
  });
}

function recordPlayer(demo: DemoPlayer): void {
  const { player, truth, otherSeeds } = demo;
  const sets = setsOf(demo).map((set) => ({ set, made: makeDemoSet(set, version) }));
  const { decision, comparison } = decideSets(sets.map(({ made }) => made));
  const { answer } = decision;
  const favours = Object.values(comparison.measures).map((measure) => [
    measure.name,
    measure.favours,
  ]);
  const { tried, right, wrong } = otherSeeds;
  const decided = {
    comment: `What Side by side answers over all sets of this player. Under ${tried} other seeds the answer was right ${right} times and wrong ${wrong} times.`,
    player,
    truth,
    answer,
    /** The kit that each measure speaks for. */
    favours: Object.fromEntries(favours),
  };
  for (const { set, made } of sets) write(set, made, { decision: decided });
  console.log(`${player}: ${answer}`);
}

function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}

mkdirSync(FOLDER, { recursive: true });
for (const set of PLAYER_A_SETS) write(set, makeDemoSet(set, version), {});
for (const demo of DEMO_PLAYERS) recordPlayer(demo);
