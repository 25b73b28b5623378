import type { SetExport } from '../core/exports/set-export.ts';
import type { Comparison } from '../core/measures/comparison.ts';
import type { Kit } from '../core/measures/comparison-measure.ts';
import type { Funnel } from '../core/measures/funnel.ts';
import type { ReviewedMeasures } from '../core/measures/measure-set.ts';
import type { FunnelBand } from '../core/measures/reach-at-contact.ts';
import type { trend } from '../core/measures/trend.ts';
import type { LiveView, ZeroState } from '../core/pipeline/outputs.ts';
import type { SwingTrace } from '../core/pipeline/swing-trace.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition, SetEvent, SetRecord } from '../core/recording/set-record.ts';
import type { TableMapping } from '../core/recording/table-mapping.ts';
import type { TablePreview } from '../core/recording/table-preview.ts';
import type { TableReport } from '../core/recording/table-report.ts';
import type { Played, PlayedKit } from '../storage/catalogue-row.ts';
import type { Library, PlayerRow } from '../storage/library-rows.ts';
import type { FromKitDesk } from './kit-contract.ts';

/** One line of the list of sets on the Start screen. */
export interface SetSummary {
  readonly setId: string;
  readonly startedAtMs: number;
  readonly source: SetDescription['source'];
  readonly player: string;
  readonly implement: string;
  readonly ball: string;
  readonly swings: number;
  readonly sizeBytes: number;
  /** Each once, in the order in which they came, where there are several; absent for one. */
  readonly kits?: readonly PlayedKit[];
  /** Absent until somebody has asked for it: `list-conditions`. */
  readonly played?: Played;
  /** Storage had no place for it: gone when the page is closed, unless its file was saved. */
  readonly isInMemoryOnly?: true;
}

/** What a player did on one day under one condition. */
export interface DayPlayed {
  /** Of the day's first set. */
  readonly startedAtMs: number;
  readonly setIds: readonly string[];
  /** Neither void nor discarded. */
  readonly swings: number;
  /** The most a ball could score; 0 without a score pad. */
  readonly fullPoints: number;
  /** Upper arm, forearm and implement end to end as entered for the day's first set, metres. */
  readonly lengthM: number;
}

/** A player's days under one condition, oldest first. */
export interface ConditionHistory extends Pick<Condition, 'implement' | 'ball' | 'feed'> {
  readonly days: readonly DayPlayed[];
  /** Their values are one for each day. */
  readonly trends: ReturnType<typeof trend>;
}

/** What the screens ask of the worker. */
export type ToWorker =
  | { readonly type: 'list-sets' }
  /** Players and kit of earlier sets: `library`. */
  | { readonly type: 'list-library' }
  /** Keeps a player as entered, before any set or after: `library`. */
  | { readonly type: 'keep-player'; readonly player: PlayerRow }
  | { readonly type: 'begin-set'; readonly description: SetDescription }
  /** Bytes are transferred, not copied: the sender must own the buffer. */
  | { readonly type: 'append'; readonly records: readonly SetRecord[] }
  | { readonly type: 'end-set' }
  /**
   * Reads a stored set through the same pipeline: `opened-set`, then `measures` as they get ready, under the condition
   * of this block (from 0), the last one unless said.
   */
  | { readonly type: 'open-set'; readonly setId: string; readonly block?: number }
  /** One swing of a set that has been opened, by its place from 0: `swing-trace`. */
  | { readonly type: 'trace-swing'; readonly setId: string; readonly index: number }
  /**
   * All sets of a player, read with hindsight: `history-progress`, then `player-history`. Given up when another message
   * comes. Not while a set runs.
   */
  | { readonly type: 'read-history'; readonly player: string }
  /** The bytes of a stored set's file, answered with `set-file`. */
  | { readonly type: 'export-set'; readonly setId: string }
  /** A table or data set made of a stored set: `file-part` by part. Not while a set runs. */
  | {
      readonly type: 'export-as';
      readonly setId: string;
      readonly kind: SetExport;
      readonly programVersion: string;
    }
  | ChangeSets
  | ReadTables
  | CompareSets
  /** Reads a stored set to be played again: `replay-ready`. Not while a set runs. */
  | { readonly type: 'replay-set'; readonly setId: string }
  /** Plays it up to this host time, forwards or back: a `live` view of that instant. */
  | { readonly type: 'replay-to'; readonly hostTimeUs: number }
  | { readonly type: 'replay-over' }
  /** The screen has drawn the last `live` message and wants the next one. */
  | { readonly type: 'live-drawn' };

/** What changes sets that have ended, or all of them; not while a set runs. */
export type ChangeSets =
  /** Adds events to a stored set and reads it again: `opened-set`. Nothing that was recorded changes. */
  | {
      readonly type: 'edit-set';
      readonly setId: string;
      readonly events: readonly SetEvent[];
      /** As in `open-set`. */
      readonly block?: number;
    }
  /** Stores the sound ones of these set files, and of those in archives among them: `imported`. */
  | { readonly type: 'import-files'; readonly files: readonly File[] }
  /** Every stored set, in archives that `import-files` takes back: `file-part` by part. */
  | { readonly type: 'export-all' }
  /** Every set of this player, for good: `player-deleted`. */
  | { readonly type: 'delete-player'; readonly player: string };

/**
 * Conditions and sets of a player side by side; not while a set runs. Done step by step, each told and followed by the
 * next one when the screen asks for it, so that whatever else comes is not kept waiting.
 */
export type CompareSets =
  /** What of this player can be compared: `conditions`. */
  | { readonly type: 'list-conditions'; readonly player: string }
  /** `compare-step`, and `compared` in the end, with the same id. */
  | ({ readonly type: 'compare'; readonly id: number } & Readonly<Record<Kit, ComparedGroup>>)
  | { readonly type: 'compare-on' };

/** Swings to compare: those under a condition, by its names, in some sets. */
export interface ComparedGroup {
  readonly implement: string;
  readonly ball: string;
  readonly feed: string;
  readonly setIds: readonly string[];
}

/** One set of a player and its conditions. */
export interface PlayedSet extends Played {
  readonly setId: string;
  readonly startedAtMs: number;
}

/** What is drawn of the swings of one group, the older sets first. */
export interface ComparedSide {
  /** Of fewer than two swings all NaN; its interval is NaN where there is none. */
  readonly funnel: Funnel;
  readonly band: FunnelBand;
  /** At contact, metres, and the points of the same swings; null: not scored, or not by the same points. */
  readonly reachM: Float64Array;
  readonly points: readonly (number | null)[];
}

/** Tables of other sensors; not while a set runs. What is wrong with a file is answered with `table-refused`. */
export type ReadTables =
  /** Looks at its beginning: `table-preview`. Without a delimiter the likeliest one. */
  | {
      readonly type: 'preview-table';
      readonly file: File;
      readonly delimiter: TableMapping['delimiter'] | null;
    }
  /** Reads a mapping that was saved: `table-mapping`. */
  | { readonly type: 'read-mapping'; readonly file: File }
  /** Reads all of it. A check is answered with `table-checked` and stores nothing; else `table-imported`. */
  | {
      readonly type: 'import-table';
      readonly file: File;
      readonly mapping: TableMapping;
      readonly isCheck: boolean;
      readonly programVersion: string;
    };

/** What a table would be as a set. */
export interface TableCheck {
  readonly report: TableReport;
  /** Lines below the names. */
  readonly rows: number;
  readonly swings: number;
  /** Swings among them with a reach. */
  readonly reaches: number;
  readonly zero: ZeroState;
}

/** A set that was never ended (crash, dead battery, closed page), as it reads now. */
export interface RecoveredSet {
  readonly setId: string;
  readonly swings: number;
  /** Host time of its last record, microseconds since the start of the set. */
  readonly untilUs: number;
}

export type { ToKitDesk } from './kit-contract.ts';

/** What the worker tells the screens. */
export type FromWorker =
  | FromKitDesk
  | { readonly type: 'sets'; readonly sets: readonly SetSummary[] }
  /** Sets found interrupted and read again, each told once: before the list that first has them. */
  | { readonly type: 'recovered'; readonly sets: readonly RecoveredSet[] }
  | { readonly type: 'library'; readonly library: Library }
  | { readonly type: 'set-begun'; readonly setId: string }
  /** Newest state only; older ones are dropped while the screen draws. */
  | { readonly type: 'live'; readonly view: LiveView }
  /** Lossless path: this many records of the running set are on disk (flushed). */
  | { readonly type: 'recorded'; readonly records: number; readonly bytes: number }
  | { readonly type: 'set-ended'; readonly setId: string }
  | {
      readonly type: 'opened-set';
      readonly description: SetDescription;
      readonly view: LiveView;
      /** Blocks of the set by condition, and those that funnel and measures are of. */
      readonly conditions: readonly (readonly number[])[];
      readonly blocks: readonly number[];
    }
  /** null: nothing is left of the swing to draw, its void reason says why. */
  | {
      readonly type: 'swing-trace';
      readonly setId: string;
      readonly index: number;
      readonly trace: SwingTrace | null;
    }
  /** Some of the measures of the set just opened, each once. */
  | {
      readonly type: 'measures';
      readonly setId: string;
      readonly measures: Partial<ReviewedMeasures>;
      readonly isLast: boolean;
    }
  | {
      readonly type: 'history-progress';
      readonly player: string;
      readonly read: number;
      readonly of: number;
    }
  /** The condition played last comes first. */
  | {
      readonly type: 'player-history';
      readonly player: string;
      readonly conditions: readonly ConditionHistory[];
    }
  | {
      readonly type: 'set-file';
      readonly setId: string;
      readonly fileName: string;
      readonly bytes: Uint8Array;
    }
  | {
      readonly type: 'replay-ready';
      readonly description: SetDescription;
      /** Host time of the last record, microseconds. */
      readonly endUs: number;
    }
  | {
      readonly type: 'imported';
      readonly stored: number;
      /** Stored before, byte for byte. */
      readonly known: number;
      readonly refused: readonly RefusedFile[];
    }
  | {
      readonly type: 'file-part';
      readonly fileName: string;
      readonly bytes: Uint8Array;
      readonly isLast: boolean;
    }
  /** Of one player, newest set first; so many are still to be read. */
  | {
      readonly type: 'conditions';
      readonly player: string;
      readonly sets: readonly PlayedSet[];
      readonly toRead: number;
    }
  | {
      readonly type: 'compare-step';
      readonly id: number;
      readonly done: number;
      readonly of: number;
    }
  | {
      readonly type: 'compared';
      readonly id: number;
      readonly comparison: Comparison;
      readonly sides: Readonly<Record<Kit, ComparedSide>>;
      /** All were scored by the same points; else points are left out. */
      readonly isScoredAlike: boolean;
    }
  | { readonly type: 'table-preview'; readonly preview: TablePreview }
  | { readonly type: 'table-mapping'; readonly mapping: TableMapping }
  | { readonly type: 'table-checked'; readonly check: TableCheck }
  | { readonly type: 'table-imported'; readonly setId: string }
  | { readonly type: 'table-refused'; readonly reason: string }
  | { readonly type: 'player-deleted'; readonly player: string; readonly sets: number }
  | { readonly type: 'trouble'; readonly trouble: WorkerTrouble };

/** A file that was not imported, and why. */
export interface RefusedFile {
  readonly fileName: string;
  readonly reason: string;
}

/** A problem the coach must hear of; `message` says what is wrong and what to do. */
export interface WorkerTrouble {
  readonly code:
    | 'storage-unavailable'
    | 'storage-full'
    | 'set-unreadable'
    | 'not-changed'
    | 'no-running-set'
    | 'unexpected';
  readonly message: string;
}
