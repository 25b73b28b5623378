/** The pipeline of a finished set as it was after some of its records, so that it need not run again. */
export interface KeptState {
  readonly setId: string;
  /** Which program made it: states of another one mean something else. */
  readonly build: string;
  /** How many of the set's records it has taken in; later ones, if any, are events. */
  readonly records: number;
  /** Whatever the pipeline calls its state; structured-clone-able. */
  readonly state: unknown;
}
