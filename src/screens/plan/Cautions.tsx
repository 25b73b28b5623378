import { Tick } from '../controls/Tick.tsx';
import type { PlanModel } from './plan-model.ts';

/** Short, because a long list is not read; the README has the reasons. */
export function Cautions({ model }: { readonly model: PlanModel }) {
  return (
    <section class="plan-cautions">
      <h2>Before the first swing</h2>
      <ul>
        <li>Clear space around the swing; one player at a time.</li>
        <li>Fastenings checked, again before each block.</li>
        <li>Stop on pain or numbness; look at the skin under straps.</li>
        <li>No damaged, wet or hot battery.</li>
        <li>A sensor adds weight, and may not be legal in competition.</li>
        <li>Local safeguarding and governing-body equipment rules come first.</li>
        <li>Not a medical device.</li>
      </ul>
      <Tick
        label="Seen to, all of it"
        isRequired
        isTicked={model.areCautionsSeen.value}
        onChange={model.confirmCautions}
      />
    </section>
  );
}
