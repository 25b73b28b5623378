import type { KitChange } from '../storage/kit.ts';
import type { CalibrationRow } from '../storage/kit-rows.ts';
import type { Library } from '../storage/library-rows.ts';
import type { FromWorker } from './contract.ts';
import type { ToKitDesk } from './kit-contract.ts';
import type { SensorBench } from './sensor-bench.ts';
import { troubleFrom } from './trouble-words.ts';

/** Storage as the desk needs it; every failure is a StorageError. */
export interface KitStorage {
  change(change: KitChange): Promise<void>;
  library(): Promise<Library>;
  calibrations(): Promise<readonly CalibrationRow[]>;
}

const TYPES: ReadonlySet<string> = new Set<ToKitDesk['type']>([
  'keep-implement',
  'forget-implement',
  'keep-ball',
  'forget-ball',
  'keep-calibration',
  'forget-calibration',
  'list-calibrations',
  'bench-begin',
  'bench-append',
  'bench-calibrate',
  'bench-over',
]);

/** Whether a message is for the desk, not for the sets. */
export function isForKitDesk(message: { readonly type: string }): message is ToKitDesk {
  return TYPES.has(message.type);
}

/** What the Kit screens ask of the worker, beside the sets: messages one after another, a failure becomes `trouble`. */
export class KitDesk {
  readonly #post: (message: FromWorker) => void;
  readonly #storage: KitStorage;
  readonly #nowMs: () => number;
  /** Fetched when it is first asked for. */
  #bench: SensorBench | null = null;
  #queue: Promise<void> = Promise.resolve();

  /** @param nowMs milliseconds since 1970 (UTC) */
  constructor(post: (message: FromWorker) => void, storage: KitStorage, nowMs: () => number) {
    this.#post = post;
    this.#storage = storage;
    this.#nowMs = nowMs;
  }

  /** Handles one message after all earlier ones; never rejects. */
  receive(message: ToKitDesk): Promise<void> {
    this.#queue = this.#queue.then(async () => {
      try {
        await this.#handle(message);
      } catch (error) {
        this.#post({ type: 'trouble', trouble: troubleFrom(error) });
      }
    });
    return this.#queue;
  }

  async #handle(message: ToKitDesk): Promise<void> {
    switch (message.type) {
      case 'bench-begin':
        return (await this.#theBench()).begin(message.purpose);
      case 'bench-append':
        return (await this.#theBench()).append(message.records);
      case 'bench-calibrate':
        return (await this.#theBench()).calibrate();
      case 'bench-over':
        return (await this.#theBench()).begin('calibration');
      case 'list-calibrations':
        return this.#tellCalibrations();
      default:
        return this.#change(message);
    }
  }

  async #theBench(): Promise<SensorBench> {
    const module = await import('./sensor-bench.ts');
    this.#bench ??= new module.SensorBench(this.#post, this.#nowMs);
    return this.#bench;
  }

  async #change(change: KitChange): Promise<void> {
    await this.#storage.change(change);
    if (change.type === 'keep-calibration' || change.type === 'forget-calibration') {
      await this.#tellCalibrations();
    } else {
      this.#post({ type: 'library', library: await this.#storage.library() });
    }
  }

  async #tellCalibrations(): Promise<void> {
    this.#post({ type: 'calibrations', calibrations: await this.#storage.calibrations() });
  }
}
