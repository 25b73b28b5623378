import { useEffect, useMemo } from 'preact/hooks';
import { StepHead } from '../controls/StepHead.tsx';
import type { WorkerClient } from '../worker-client.ts';
import { BallForm } from './BallForm.tsx';
import { ImplementForm } from './ImplementForm.tsx';
import { KitLists } from './KitLists.tsx';
import { createKitModel } from './kit-model.ts';
import '../controls/fields.css';
import './kit.css';

/** Implements, balls and sensors: what sets are played with. */
export function KitScreen({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(() => createKitModel(client, Date.now), [client]);
  useEffect(() => model.dispose, [model]);
  const form = model.form.value;
  const trouble = model.trouble.value;
  return (
    <main class={form === null ? 'page kit' : 'page kit kit-open'}>
      <StepHead back={{ screen: 'start' }} backWords="Start" title={titleOf(form)} />
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {form === null && <KitLists model={model} />}
      {form?.kind === 'implement' && <ImplementForm model={model} form={form} client={client} />}
      {form?.kind === 'ball' && <BallForm model={model} form={form} />}
    </main>
  );
}

function titleOf(form: ReturnType<typeof createKitModel>['form']['value']): string {
  if (form === null) return 'Kit';
  if (form.kind === 'ball') return form.isKnown ? 'Ball' : 'New ball';
  return form.isKnown ? 'Implement' : 'New implement';
}
