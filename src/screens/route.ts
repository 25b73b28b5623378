import { type ReadonlySignal, signal } from '@preact/signals';

/** The screens an address can name. */
export type Route =
  | { readonly screen: 'start' }
  | { readonly screen: 'player' }
  | { readonly screen: 'plan' }
  | { readonly screen: 'court' }
  | { readonly screen: 'storage' }
  | { readonly screen: 'import' }
  | { readonly screen: 'set' | 'replay'; readonly setId: string };

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
  if ((first === 'set' || first === 'replay') && second !== undefined && second !== '') {
    return { screen: first, setId: decodeURIComponent(second) };
  }
  return { screen: 'start' };
}

/** Address of a screen, for links. */
export function hashOf(route: Route): string {
  if (route.screen === 'start') return '#/';
  return 'setId' in route
    ? `#/${route.screen}/${encodeURIComponent(route.setId)}`
    : `#/${route.screen}`;
}

const current = signal(parseRoute(location.hash));
addEventListener('hashchange', () => {
  current.value = parseRoute(location.hash);
});

/** The route of the page as it is now. */
export const route: ReadonlySignal<Route> = current;

/** Goes to a screen; the browser's back button returns. */
export function goTo(target: Route): void {
  location.hash = hashOf(target);
}
