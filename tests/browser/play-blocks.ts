import type { Page } from 'playwright-core';

/**
 * Plays planned blocks as a coach does, from the first swing on: scores every ball as it comes, begins each next
 * block, zeroes where it is asked for, until all blocks are done.
 * @param tapped told what the player would see the coach do
 * @returns points tapped by number of the swing, from 1
 */
export async function playBlocks(
  page: Page,
  blocks: number,
  tapped: { readonly onBlock?: (block: number) => void; readonly onZero?: () => void } = {},
): Promise<Map<number, number>> {
  const said = new Map<number, number>();
  for (let block = 1; block <= blocks; block++) {
    const ending =
      block < blocks
        ? page.getByRole('button', { name: `Begin block ${block + 1}` })
        : page.getByRole('heading', { name: 'All blocks are done' });
    for (;;) {
      await scoreIfNew(page, said);
      if (await ending.isVisible()) break;
      await page.waitForTimeout(50);
    }
    // the last ball of the block has just come
    await page.waitForTimeout(500);
    await scoreIfNew(page, said);
    if (block === blocks) break;
    await ending.click();
    tapped.onBlock?.(block);
    if (await asksForPoses(page)) {
      await page.getByRole('button', { name: /Zero now/ }).click();
      tapped.onZero?.();
    }
  }
  return said;
}

/**
 * Scores the swing on the pad, unless it was. Reading which one and tapping are one step in the page: on a busy
 * machine the next swing may come in between.
 */
async function scoreIfNew(page: Page, said: Map<number, number>): Promise<void> {
  const tapped = await page.evaluate(async () => {
    const numberOnPad = () =>
      Number(/Score swing (\d+)/.exec(document.querySelector('.pad-line')?.textContent ?? '')?.[1]);
    const seen = numberOnPad();
    if (Number.isNaN(seen) || document.querySelector('.pad-step[aria-pressed=true]')) return null;
    // until then a tap is taken for one aimed at the swing before
    await new Promise((resolve) => setTimeout(resolve, 450));
    const steps = [...document.querySelectorAll<HTMLButtonElement>('.pad-step')];
    const step = steps[(seen * 5) % steps.length];
    if (numberOnPad() !== seen || step === undefined) return null;
    step.click();
    return { swing: seen, points: Number(/^\d+/.exec(step.ariaLabel ?? '')?.[0]) };
  });
  if (tapped !== null) said.set(tapped.swing, tapped.points);
}

/** Another implement does; the worker says so within a moment. */
async function asksForPoses(page: Page): Promise<boolean> {
  const zero = page.getByRole('button', { name: /Zero now/ });
  return zero.waitFor({ timeout: 3000 }).then(
    () => true,
    () => false,
  );
}
