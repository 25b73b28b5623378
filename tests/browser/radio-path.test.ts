import { describe, expect, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { conditionOf } from '../../src/core/simulator/kit.ts';
import { confirmAndBegin, enterPlan, enterPlayer } from './begin-sensor-set.ts';
import { connectSensor, endAndSaveSet, type RadioSet } from './ble/radio-set.ts';
import { hasRadio, withRadio } from './ble/with-radio.ts';
import { playBlocks } from './play-blocks.ts';

const A = { implement: 'short', ball: 'training' } as const;
const B = { implement: 'full', ball: 'standard' } as const;
const BLOCKS = [A, B, B, A];
const SWINGS = 10;
/** Each block in a size of its own. */
const SIZES = [
  { width: 390, height: 844 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
  { width: 844, height: 390 },
];

describe.skipIf(!hasRadio)('from first visit to a saved set over the emulated radio', () => {
  it(
    'of forty swings in four blocks with two kits, the screen turned and changed in between',
    () =>
      withRadio(
        { swings: SWINGS, laterBlocks: BLOCKS.slice(1).map((kit) => ({ ...kit, swings: SWINGS })) },
        async (set) => {
          const { page } = set;
          await planTwoKits(set);
          for (const segment of SEGMENTS) await connectSensor(set, segment);
          await page.getByRole('button', { name: /Zero now/ }).click();
          set.clock.startedMs = performance.now();
          const said = await playBlocks(page, BLOCKS.length, {
            onBlock: (block) => {
              void page.setViewportSize(SIZES[block]!);
              set.hear({ type: 'block-began', condition: conditionOf(BLOCKS[block]!) });
            },
            onZero: () => set.hear({ type: 'zero-requested' }),
          });
          await page.setViewportSize(SIZES[0]!);
          const { description, records, complete, lostBytes } = await endAndSaveSet(set);
          expect({ complete, lostBytes }).toEqual({ complete: true, lostBytes: 0 });
          const state = createPipeline(description);
          for (const record of records) stepPipeline(state, record);
          const view = viewPipeline(state);
          const struck = view.swings.filter(({ swing }) => swing.voidReason !== 'air-swing');
          // none missed, none false
          expect(struck.map(({ block }) => block)).toEqual(
            BLOCKS.flatMap((_, block) => new Array<number>(SWINGS).fill(block)),
          );
          expect(struck.map(({ points }) => points)).toEqual(
            struck.map(({ swing }) => said.get(swing.index + 1) ?? null),
          );
          expect(said.size).toBeGreaterThanOrEqual(38);
          // where it was known, reach is the player's, within a few centimetres and with the implement of its block
          const reached = struck.flatMap(({ swing }, i) =>
            swing.voidReason === null ? [swing.reachM - set.swings[i]!.reachM] : [],
          );
          expect(reached.length).toBeGreaterThanOrEqual(36);
          expect(Math.max(...reached.map(Math.abs))).toBeLessThan(0.03);
        },
      ),
    420_000,
  );
});

/** Both kits, there and back, ten swings a block: as a coach would fill in the Plan screen. */
async function planTwoKits({ page }: RadioSet): Promise<void> {
  await enterPlayer(page);
  await enterPlan(page, {
    player: '',
    implement: conditionOf(A).implement,
    ball: conditionOf(A).ball,
  });
  await page.getByRole('button', { name: 'Add a kit to compare' }).click();
  const second = page.getByRole('group', { name: 'Kit B' });
  await second.getByLabel('Implement', { exact: true }).fill(conditionOf(B).implement);
  await second
    .getByLabel('Wrist to sweet spot')
    .fill(String(100 * conditionOf(B).implementLengthM));
  await second.getByLabel('Ball', { exact: true }).fill(conditionOf(B).ball);
  await page.getByText('Blocks', { exact: true }).click();
  const fewer = page.getByRole('button', { name: 'Fewer: Blocks with each kit' });
  await fewer.click();
  await fewer.click();
  await page.getByText('4 blocks').first().waitFor();
  await confirmAndBegin(page);
}
