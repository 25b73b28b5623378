import type { LiveView } from '../core/pipeline/outputs.ts';
import type { SetDescription } from '../core/recording/set-description.ts';

/**
 * A set's results as JSON: the description and the pipeline's state, SI units and names as in the
 * program. Typed arrays become lists; NaN, which JSON lacks, becomes null.
 */
export function setJson(view: LiveView, description: SetDescription): string {
  const plain = (_key: string, value: unknown): unknown =>
    value instanceof Float64Array ? Array.from(value) : value;
  return `${JSON.stringify({ description, view }, plain, 2)}\n`;
}
