import { decideSets } from './decide-sets.ts';
import { DEMO_PLAYERS, type DemoPlayer, setsOf } from './demo-players.ts';
import { makeDemoSet } from './make-demo-set.ts';

/*
 * How often the invented players' answers are right under other seeds: an answer that hangs on its seed would teach
 * nothing. `npx tsx src/batch/try-demo-seeds.ts [seeds] [player]` takes some five seconds for each; the counts are
 * kept in demo-players.ts.
 */
const [seeds = '20', wanted = ''] = process.argv.slice(2);
/** None was looked at while the players were made (1000 to 1190 were); no two sets share one. */
const FIRST_SEED = 7000;

function answerUnder(demo: DemoPlayer, seed: number): DemoPlayer['answer'] | 'stay' {
  const sets = setsOf(demo, seed).map((set) => makeDemoSet(set, 'test'));
  const { decision, comparison } = decideSets(sets);
  const speaking = Object.values(comparison.measures).filter(({ favours }) => favours !== null);
  const said = speaking.map(({ name, favours }) => `${name} for the ${favours} kit`);
  console.log(`${demo.player}, seed ${seed}: ${decision.answer}; ${said.join(', ')}`);
  return decision.answer;
}

for (const demo of DEMO_PLAYERS.filter(({ player }) => player.includes(wanted))) {
  const answers = Array.from({ length: Number(seeds) }, (_, i) =>
    answerUnder(demo, FIRST_SEED + 10 * i),
  );
  const right = answers.filter((answer) => answer === demo.answer).length;
  const open = answers.filter((answer) => answer === 'not-enough').length;
  const wrong = answers.length - (demo.answer === 'not-enough' ? right : right + open);
  console.log(`${demo.player}: right ${right}, wrong ${wrong} of ${answers.length}`);
}
