import { computed, type ReadonlySignal } from '@preact/signals';

/**
 * A computed signal that keeps its old value, and so redraws nothing, while the key stays the same.
 * Live views arrive many times a second as fresh copies; most say nothing new.
 */
export function keepWhileSame<T>(read: () => T, keyOf: (value: T) => string): ReadonlySignal<T> {
  let kept: { readonly key: string; readonly value: T } | null = null;
  return computed(() => {
    const value = read();
    const key = keyOf(value);
    if (kept === null || kept.key !== key) kept = { key, value };
    return kept.value;
  });
}
