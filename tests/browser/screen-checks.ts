import axe from 'axe-core';
import type { Page } from 'playwright-core';

/** WCAG 2.5.5 asks for 44 CSS px; ours are larger, for a thumb in a hurry. */
const TOUCH_PX = 48;
/** Fractions of a pixel are rounded differently on both sides of a comparison. */
const ROUNDING_PX = 1;

/**
 * @param rules those to check, all by default
 * @returns what axe-core finds against the page as it is, a line for each element
 */
export async function axeViolations(page: Page, rules?: readonly string[]): Promise<string[]> {
  // Through the debugger: the page's own policy lets no script in.
  await page.evaluate(`window.axe ?? (() => { ${axe.source} })()`);
  const options: axe.RunOptions = {
    resultTypes: ['violations'],
    ...(rules === undefined ? {} : { runOnly: [...rules] }),
  };
  return page.evaluate(async (asked) => {
    const found = await (window as unknown as { axe: typeof axe }).axe.run(document, asked);
    return found.violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id} ${target.join(' ')}: ${failureSummary}`),
    );
  }, options);
}

/** @returns elements with text that is wider than they are, or cut off below, and the page itself if it is too wide */
export function overflows(page: Page): Promise<string[]> {
  return page.evaluate((rounding) => {
    const name = (element: Element): string =>
      `${element.tagName.toLowerCase()}.${[...element.classList].join('.')} "${element.textContent.slice(0, 40)}"`;
    const found: string[] = [];
    const { scrollWidth } = document.documentElement;
    if (scrollWidth > innerWidth) found.push(`the page is ${scrollWidth} px wide`);
    for (const element of document.body.querySelectorAll<HTMLElement>('*')) {
      const { overflowX, overflowY, clipPath, display } = getComputedStyle(element);
      // What is typed scrolls in its field; what is only for screen readers is clipped on purpose.
      const isExempt =
        !(element instanceof HTMLElement) ||
        element instanceof HTMLInputElement ||
        element.textContent.trim() === '' ||
        display === 'inline' ||
        clipPath !== 'none' ||
        !element.checkVisibility();
      if (isExempt) continue;
      const scrolls = /auto|scroll/.test(overflowX) && element.tabIndex >= 0;
      if (!scrolls && element.scrollWidth > element.clientWidth + rounding) {
        found.push(`${name(element)} ${element.scrollWidth} px in ${element.clientWidth} px`);
      }
      const isCut = /hidden|clip/.test(overflowY);
      if (isCut && element.scrollHeight > element.clientHeight + rounding) {
        found.push(`${name(element)} ${element.scrollHeight} px cut to ${element.clientHeight} px`);
      }
    }
    return found;
  }, ROUNDING_PX);
}

/** @returns things to tap that are too small, themselves or their label */
export function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate((touch) => {
    const isLarge = (box: DOMRect): boolean => Math.min(box.width, box.height) >= touch - 0.5;
    return [...document.querySelectorAll<HTMLElement>('a[href], button, input, select, summary')]
      .filter((element) => element.checkVisibility())
      .filter((element) => {
        const labels = element instanceof HTMLInputElement ? [...(element.labels ?? [])] : [];
        return ![element, ...labels].some((box) => isLarge(box.getBoundingClientRect()));
      })
      .map((element) => {
        const { width, height } = element.getBoundingClientRect();
        return `${Math.round(width)} x ${Math.round(height)} px: ${element.outerHTML.slice(0, 120)}`;
      });
  }, TOUCH_PX);
}

/** @returns what moves although the reader asked for less motion: animations that run, and transitions that would */
export function motions(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const running = document.getAnimations().map(() => 'an animation runs');
    const would = [...document.querySelectorAll('*')].filter((element) => {
      const { transitionDuration, animationName } = getComputedStyle(element);
      return animationName !== 'none' || transitionDuration.split(', ').some((s) => s !== '0s');
    });
    return [...running, ...would.map((element) => element.outerHTML.slice(0, 120))];
  });
}

/**
 * Walks over the page with the Tab key alone.
 * @returns what it never reaches (a trap would hide the rest), and where the focus cannot be seen
 */
export async function tabTroubles(page: Page): Promise<string[]> {
  const wanted = await page.evaluate(markTabStops);
  const troubles = new Set<string>();
  const reached = new Set<number>();
  // More than twice round: the walk begins where the last click was, and a new swing enables further buttons.
  for (let press = 0; press < 3 * wanted.length + 9 && reached.size < wanted.length; press++) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(lookAtFocus);
    if (at === null) continue;
    // what a new swing has enabled meanwhile has no number
    if (!Number.isNaN(at.stop)) reached.add(at.stop);
    if (!at.isSeen) troubles.add(`focus cannot be seen: ${at.html}`);
  }
  wanted.forEach((html, stop) => {
    if (!reached.has(stop)) troubles.add(`Tab never gets to: ${html}`);
  });
  return [...troubles];
}

/** Numbers everything the Tab key must reach; of radio buttons of one name only the chosen one. Runs in the page. */
function markTabStops(): string[] {
  const all = document.querySelectorAll<HTMLElement | SVGElement>(
    'a[href], button:enabled, input:enabled, select:enabled, summary, [tabindex="0"]',
  );
  const stops = [...all].filter(
    (element) =>
      element.checkVisibility() &&
      !(element instanceof HTMLInputElement && element.type === 'radio' && !element.checked),
  );
  stops.forEach((element, stop) => {
    element.dataset.tabStop = String(stop);
  });
  return stops.map((element) => element.outerHTML.slice(0, 120));
}

/** Where the focus is and whether it shows, on the element or its label. Runs in the page. */
function lookAtFocus(): { stop: number; html: string; isSeen: boolean } | null {
  const element = document.activeElement;
  const canHold = element instanceof HTMLElement || element instanceof SVGElement;
  if (!canHold || element === document.body) return null;
  const shown = [element, element.closest('label')].filter((box) => box !== null);
  const isSeen = shown.some((box) => {
    const { outlineStyle, outlineWidth, clipPath } = getComputedStyle(box);
    const { top, bottom, left, right } = box.getBoundingClientRect();
    const isInView = bottom > 0 && top < innerHeight && right > 0 && left < innerWidth;
    return (
      outlineStyle !== 'none' &&
      Number.parseFloat(outlineWidth) >= 2 &&
      clipPath === 'none' &&
      isInView
    );
  });
  const stop = Number(element.dataset.tabStop ?? Number.NaN);
  return { stop, html: element.outerHTML.slice(0, 120), isSeen };
}
