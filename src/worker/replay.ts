import type { StoredSet } from '../core/recording/set-reader.ts';
import type { PipelineRun, SetPipeline } from './set-ports.ts';

/** A stored set played again: the same records through the same pipeline, as far as is asked for. */
export class Replay {
  readonly #set: StoredSet;
  readonly #pipeline: SetPipeline;
  #run: PipelineRun;
  #next = 0;
  #reachedUs = 0;

  constructor(set: StoredSet, pipeline: SetPipeline) {
    this.#set = set;
    this.#pipeline = pipeline;
    this.#run = pipeline.start(set.description);
  }

  /** Host time of the last record, microseconds since the start of the set. */
  get endUs(): number {
    return this.#set.records.reduce((latest, { hostTimeUs }) => Math.max(latest, hostTimeUs), 0);
  }

  /**
   * On to this host time, or from the beginning to it when it lies behind.
   * @returns the pipeline there
   */
  goTo(hostTimeUs: number): PipelineRun {
    if (hostTimeUs < this.#reachedUs) {
      this.#run = this.#pipeline.start(this.#set.description);
      this.#next = 0;
    }
    const { records } = this.#set;
    while (this.#next < records.length && records[this.#next]!.hostTimeUs <= hostTimeUs) {
      this.#run.step(records[this.#next]!);
      this.#next++;
    }
    this.#reachedUs = hostTimeUs;
    return this.#run;
  }
}
