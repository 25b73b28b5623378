import type { SetDescription } from '../core/recording/set-description.ts';

/** What the list of sets shows of one; the same fields as SetSummary of the worker's contract. */
export interface CatalogueRow
  extends Pick<
    SetDescription,
    'setId' | 'startedAtMs' | 'source' | 'player' | 'implement' | 'ball'
  > {
  readonly swings: number;
  readonly sizeBytes: number;
}
