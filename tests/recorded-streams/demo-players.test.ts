import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { decideSets } from '../../src/batch/decide-sets.ts';
import { DEMO_PLAYERS, type DemoPlayer, setsOf } from '../../src/batch/demo-players.ts';
import { makeDemoSet } from '../../src/batch/make-demo-set.ts';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { INVENTED_SETS } from '../../src/screens/start/invented-sets.ts';

const [B, C] = DEMO_PLAYERS as [DemoPlayer, DemoPlayer, DemoPlayer];
const pathOf = (name: string) => new URL(`../../recorded-streams/${name}`, import.meta.url);

function stored(name: string): StoredSet {
  const result = readSet(readFileSync(pathOf(`${name}.mcap`)));
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

const beside = (name: string) => JSON.parse(readFileSync(pathOf(`${name}.json`), 'utf8'));

describe('invented players', () => {
  it.each(DEMO_PLAYERS)('$player: the files give the answer beside them: $answer', (demo) => {
    const sets = setsOf(demo);
    const { decision, comparison, smaller, larger } = decideSets(
      sets.map(({ name }) => stored(name)),
    );
    expect(decision.answer).toBe(demo.answer);
    const planned = demo.days.length * demo.swingsPerBlock;
    expect([smaller.swings.length, larger.swings.length]).toEqual([planned, planned]);
    for (const { name } of sets) {
      const { answer, favours, player } = beside(name).decision;
      expect({ answer, player }).toEqual({ answer: demo.answer, player: demo.player });
      for (const measure of Object.values(comparison.measures))
        expect(favours[measure.name], measure.name).toBe(measure.favours);
    }
  });

  it.each(DEMO_PLAYERS.flatMap((demo) => setsOf(demo)))(
    '$name was made with what the script says, and its file says that nobody swung',
    ({ name, options, startedAtMs }) => {
      const { description } = stored(name);
      expect(beside(name).options).toEqual(JSON.parse(JSON.stringify(options)));
      expect(description).toMatchObject({ setId: name, startedAtMs, source: 'simulated' });
      expect(description.player).toContain('invented');
      expect(description.consentOn).toBeDefined();
      expect(description.plan?.swingsPerBlock).toBe(options.swings);
    },
  );

  it.each(DEMO_PLAYERS.flatMap((demo) => setsOf(demo)))(
    '$name is swung again as it was when its file was made',
    ({ name, options, startedAtMs }) => {
      const head = { setId: name, startedAtMs, programVersion: 'test' };
      const { swings } = simulateSession(options, head).truth;
      const { contactS, reachM } = beside(name).truth;
      expect(swings.map(({ contactTimeUs }) => contactTimeUs / 1e6)).toEqual(
        contactS.map((atS: number) => expect.closeTo(atS, 3)),
      );
      expect(swings.map((swing) => swing.reachM)).toEqual(
        reachM.map((reach: number) => expect.closeTo(reach, 3)),
      );
    },
  );

  // Seeds that were not looked at when the players were made; how often of twenty: demo-players.ts.
  it.each([
    { ...B, other: 5001 },
    { ...C, other: 5003 },
  ])('$player moves so that other swings give the same answer', ({ other, ...demo }) => {
    const sets = setsOf(demo, other).map((set) => makeDemoSet(set, 'test'));
    expect(decideSets(sets).decision.answer).toBe(demo.answer);
  });

  it('are those that the Start screen brings in, under the same names', () => {
    const offered = INVENTED_SETS.map(({ player, setId, address }) => ({
      player,
      setId,
      file: address.pathname.split('/').at(-1),
    }));
    expect(offered).toEqual(
      DEMO_PLAYERS.flatMap((demo) =>
        setsOf(demo).map(({ name }) => ({
          player: demo.player,
          setId: name,
          file: `${name}.mcap`,
        })),
      ),
    );
  });
});
