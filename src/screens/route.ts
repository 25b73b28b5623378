import { type ReadonlySignal, signal } from '@preact/signals';

/** The screens an address can name. */
export type Route =
  | { readonly screen: 'start' }
  | { readonly screen: 'player' }
  | { readonly screen: 'plan' }
  | { readonly screen: 'kit' }
  /** Below Kit. */
  | { readonly screen: 'calibrate' }
  | { readonly screen: 'court' }
  | { readonly screen: 'storage' }
  | { readonly screen: 'import' }
  /** null: the player is to be chosen. */
  | { readonly screen: 'progress' | 'side-by-side'; readonly player: string | null }
  | { readonly screen: 'set' | 'replay' | 'report'; readonly setId: string };

/**
 * Reads the part of an address after `#`.
 * @returns the Start screen for anything unknown, so that an old link never ends on a blank page
 */
function parseRoute(hash: string): Route {
  const [, first, second] = hash.replace(/^#/, '').split('/');
  switch (first) {
    case 'player':
    case 'plan':
    case 'court':
    case 'storage':
    case 'import':
      return { screen: first };
  }
  if (first === 'kit') return { screen: second === 'calibrate' ? 'calibrate' : 'kit' };
  const name = second === undefined || second === '' ? null : decoded(second);
  if (first === 'progress' || first === 'side-by-side') return { screen: first, player: name };
  if ((first === 'set' || first === 'replay' || first === 'report') && name !== null) {
    return { screen: first, setId: name };
  }
  return { screen: 'start' };
}

/** null for an address that was cut in the middle of a letter. */
function decoded(part: string): string | null {
  try {
    return decodeURIComponent(part);
  } catch {
    return null;
  }
}

/** Address of a screen, for links. */
export function hashOf(route: Route): string {
  if (route.screen === 'start') return '#/';
  if (route.screen === 'calibrate') return '#/kit/calibrate';
  const name = 'setId' in route ? route.setId : 'player' in route ? route.player : null;
  return name === null ? `#/${route.screen}` : `#/${route.screen}/${encodeURIComponent(name)}`;
}

const current = signal(parseRoute(location.hash));
/** How many of the program's screens lie behind this one; kept with the page's history, which outlives a reload. */
let depth = placeInHistory(0);
addEventListener('hashchange', () => {
  depth = placeInHistory(depth + 1);
  current.value = parseRoute(location.hash);
});

/** @param ifNew of an entry that has just been made: one gone back to knows its own */
function placeInHistory(ifNew: number): number {
  const kept: unknown = history.state?.depth;
  if (typeof kept === 'number') return kept;
  history.replaceState({ depth: ifNew }, '');
  return ifNew;
}

/** The route of the page as it is now. */
export const route: ReadonlySignal<Route> = current;

/** Goes to a screen; the browser's back button returns. */
export function goTo(target: Route): void {
  location.hash = hashOf(target);
}

/**
 * Goes to where one came from.
 * @returns false, and does nothing, when this is the first screen that was opened
 */
export function goBack(): boolean {
  if (depth === 0) return false;
  history.back();
  return true;
}
