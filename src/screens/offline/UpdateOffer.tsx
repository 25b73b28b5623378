import { runningSet } from '../running-set.ts';
import type { OfflineModel } from './offline-model.ts';
import './offline.css';

/** A newer version is offered, never during a set; nothing happens until the coach asks for it. */
export function UpdateOffer({ model }: { readonly model: OfflineModel }) {
  const isOffered = model.isNewVersionReady.value && runningSet.value === null;
  return (
    <div class="update-offer" role="status">
      {isOffered && (
        <p>
          A new version is ready.
          <button type="button" onClick={() => void model.useNewVersion()}>
            Update now
          </button>
        </p>
      )}
    </div>
  );
}
