import type { SetDescription } from '../core/recording/set-description.ts';

/** The pipeline of a finished set as it was after some of its records, so that it need not run again. */
export interface KeptState {
  readonly setId: string;
  /** Which program made it: states of another one mean something else. */
  readonly build: string;
  readonly description: SetDescription;
  /** Of the set's file as it was then: while it is that file, not even its records need be read. */
  readonly sha256: string;
  /** How many of the set's records it has taken in; later ones, if any, are events. */
  readonly records: number;
  /** Whatever the pipeline calls its state; structured-clone-able. */
  readonly state: unknown;
}
