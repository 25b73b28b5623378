import { finishedState } from '../core/pipeline/finished-state.ts';
import {
  createPipeline,
  type PipelineState,
  stepPipeline,
  viewPipeline,
} from '../core/pipeline/pipeline.ts';
import { measureReviewed, reviewPipeline } from '../core/pipeline/review.ts';
import { reviewedSwings } from '../core/pipeline/reviewed-swings.ts';
import { traceSwing } from '../core/pipeline/swing-trace.ts';
import { putCatalogueRow, reconcileCatalogue, removeCatalogueRow } from '../storage/catalogue.ts';
import { forgetState, keepState, keptState } from '../storage/kept-states.ts';
import { changeKit, readCalibrations } from '../storage/kit.ts';
import { forgetPlayer, keepPlayer, learn, readLibrary } from '../storage/library.ts';
import {
  changeSetFileTail,
  createSetFile,
  findSetFiles,
  readSetFile,
  removeSetFile,
} from '../storage/set-files.ts';
import type { FromWorker, ToKitDesk, ToWorker } from './contract.ts';
import { gatherAppends } from './gather-appends.ts';
import { isForKitDesk, KitDesk } from './kit-desk.ts';
import type { PipelineRun, SetPipeline, SetStorage } from './set-ports.ts';
import { SetSession } from './set-session.ts';

declare const self: DedicatedWorkerGlobalScope;
/** Hash of src/core, set by vite.config.ts. */
declare const __CORE_BUILD__: string;

const storage: SetStorage = {
  create: createSetFile,
  read: readSetFile,
  changeTail: changeSetFileTail,
  remove: async (setId) => {
    await removeSetFile(setId);
    await removeCatalogueRow(setId);
    await forgetState(setId);
  },
  list: async (summarise, tell) => reconcileCatalogue(await findSetFiles(), summarise, tell),
  remember: putCatalogueRow,
  library: readLibrary,
  learn,
  keepPlayer,
  forgetPlayer,
  keepState,
  keptState,
};

/** Any will do, but the same set must give the same numbers every time. */
const MEASURE_SEED = 1;

const pipeline: SetPipeline = {
  build: __CORE_BUILD__,
  start: (description) => runOf(createPipeline(description)),
  resume: (finished) => runOf(finished as PipelineState),
};

function runOf(state: PipelineState): PipelineRun {
  return {
    step: (record) => {
      stepPipeline(state, record);
    },
    view: () => viewPipeline(state),
    finished: () => finishedState(state),
    review: (block) => reviewPipeline(state, block),
    measures: (block) => measureReviewed(state, { seed: MEASURE_SEED }, block),
    swingsLike: (block) => reviewedSwings(state, block),
    trace: (index) => traceSwing(state, index),
  };
}

/** A file can be large: its bytes move instead of being copied. */
function post(message: FromWorker): void {
  const carriesFile = message.type === 'set-file' || message.type === 'file-part';
  const buffer = carriesFile ? message.bytes.buffer : null;
  self.postMessage(message, buffer instanceof ArrayBuffer ? [buffer] : []);
}

const session = new SetSession(post, storage, pipeline);
const desk = new KitDesk(
  post,
  { change: changeKit, library: readLibrary, calibrations: readCalibrations },
  Date.now,
);

/** A message to oneself comes after those that are waiting already. */
const turn = new MessageChannel();
const turns: (() => void)[] = [];
turn.port1.onmessage = () => turns.shift()?.();

const take = gatherAppends(
  (message) => void session.receive(message),
  (act) => {
    turns.push(act);
    turn.port2.postMessage(null);
  },
);
self.addEventListener('message', ({ data }: MessageEvent<ToWorker | ToKitDesk>) => {
  if (isForKitDesk(data)) void desk.receive(data);
  else take(data);
});
