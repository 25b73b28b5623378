import type { ReviewedMeasures } from '../core/measures/measure-set.ts';
import type { MeasuredSwing } from '../core/measures/measured-swing.ts';
import type { LiveView } from '../core/pipeline/outputs.ts';
import type { SwingTrace } from '../core/pipeline/swing-trace.ts';
import type { FileTail } from '../core/recording/append-events.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import type { KeptState } from '../storage/kept-state.ts';
import type { Library, PlayerRow } from '../storage/library-rows.ts';
import type { RunningFile, StoredFile } from '../storage/set-files.ts';
import type { SetSummary } from './contract.ts';

/** Storage as the session needs it; every failure is a StorageError. */
export interface SetStorage {
  /** Creates the locked file of a new set. */
  create(setId: string): Promise<RunningFile>;
  /** All bytes of a stored set. */
  read(setId: string): Promise<Uint8Array>;
  /** Other bytes in place of the end of a stored set. */
  changeTail(setId: string, tail: FileTail): Promise<void>;
  /** The file of a stored set and its row, for good. */
  remove(setId: string): Promise<void>;
  /**
   * Rows of all stored sets; `summarise` is asked for those the catalogue does not know. Where it knows all, `tell` has
   * its rows long before the files have been looked at.
   */
  list(
    summarise: (file: StoredFile) => Promise<SetSummary | null>,
    tell: (rows: readonly SetSummary[]) => void,
  ): Promise<readonly SetSummary[]>;
  /** Who and what has been in sets. */
  library(): Promise<Library>;
  /** Takes in what a set told of its player and kit. */
  learn(told: Library): Promise<void>;
  /** Keeps a player as the coach has entered them. */
  keepPlayer(player: PlayerRow): Promise<void>;
  /** Forgets a player for good. */
  forgetPlayer(player: string): Promise<void>;
  /** What is kept of a set's pipeline, so that it need not run again. */
  keepState(kept: KeptState): Promise<void>;
  keptState(setId: string): Promise<KeptState | undefined>;
  /** Keeps the row of a set that has just ended. */
  remember(summary: SetSummary): Promise<void>;
}

/** The pipeline of one set: fed record by record, asked for its state. */
export interface PipelineRun {
  step(record: SetRecord): void;
  view(): LiveView;
  /** What can be kept of it once the set is over: structured-clone-able. */
  finished(): unknown;
  /** The same once the set is over, read with hindsight, under the condition of this block or of the last one. */
  review(block?: number): LiveView;
  /** All measures of the set so read, one family after another as they are asked for. */
  measures(block?: number): Iterable<Partial<ReviewedMeasures>>;
  /** Its swings under the condition of this block, so read, in order; null: void or discarded. */
  swingsLike(block: number): readonly (MeasuredSwing | null)[];
  /** One swing of the set so read, by its place from 0; null when there is nothing to draw. */
  trace(index: number): SwingTrace | null;
}

/** Makes a fresh pipeline for a set. */
export interface SetPipeline {
  /** Changes with everything that decides what a state means. */
  readonly build: string;
  start(description: SetDescription): PipelineRun;
  /** Goes on from what `finished` gave, with events alone. */
  resume(finished: unknown): PipelineRun;
}
