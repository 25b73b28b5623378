import type { OfflineModel } from './offline-model.ts';
import './offline.css';

const WORDS = {
  unknown: '',
  ready: 'Works without network.',
  failed: 'Needs the network: this browser could not keep the program. Reload to try again.',
};

/** Says quietly whether the app works without network. */
export function OfflineLine({ model }: { readonly model: OfflineModel }) {
  return <footer class="offline-line soft">{WORDS[model.state.value]}</footer>;
}
