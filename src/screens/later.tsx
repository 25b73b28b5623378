import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/**
 * A screen whose code is fetched when it is first shown, so that Start and Court are there sooner.
 * @param load imports the screen; from this device once the app works without network
 */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  let loaded: ComponentType<P> | null = null;
  return function Later(props: P) {
    const [state, setState] = useState<'loading' | 'loaded' | 'failed'>(
      loaded === null ? 'loading' : 'loaded',
    );
    useEffect(() => {
      if (loaded !== null) return;
      load().then(
        (screen) => {
          loaded = screen;
          setState('loaded');
        },
        () => setState('failed'),
      );
    }, []);
    if (loaded !== null) {
      const Screen = loaded;
      return <Screen {...props} />;
    }
    return (
      <main class="page">
        {state === 'failed' && (
          <p class="notice" role="alert">
            This part of the program could not be fetched. Reload the page while there is a network.
          </p>
        )}
      </main>
    );
  };
}
