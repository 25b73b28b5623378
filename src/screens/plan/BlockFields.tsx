import { Choice } from '../controls/Choice.tsx';
import { Stepper } from '../controls/Stepper.tsx';
import type { PlanModel } from './plan-model.ts';

const MAX_ROUNDS = 10;
const MAX_SWINGS = 60;

/** In what order the kits come, how often, and how many swings at a time. */
export function BlockFields({ model }: { readonly model: PlanModel }) {
  const { kits, order, seed, rounds, swingsPerBlock } = model.entry.value;
  return (
    <>
      {kits.length > 1 && (
        <Choice
          name="order"
          stacked
          legend="Order"
          value={order}
          onChange={(chosen) => model.change({ order: chosen })}
          options={[
            { value: 'mirrored', label: 'There and back: AB BA' },
            { value: 'as-listed', label: 'As listed: AB AB' },
            { value: 'random', label: 'Shuffled in each round' },
          ]}
        />
      )}
      {kits.length > 1 && order === 'mirrored' && (
        <p class="soft">Warming up and tiring then weigh on all kits alike.</p>
      )}
      {kits.length > 1 && order === 'random' && (
        <div class="plan-seed">
          <span>
            Shuffle number <b>{seed}</b>
          </span>
          <button type="button" onClick={model.shuffle}>
            Shuffle again
          </button>
        </div>
      )}
      <Stepper
        label={kits.length > 1 ? 'Blocks with each kit' : 'Blocks'}
        value={rounds}
        min={1}
        max={MAX_ROUNDS}
        onChange={(chosen) => model.change({ rounds: chosen })}
      />
      <Stepper
        label="Swings in a block"
        value={swingsPerBlock}
        min={5}
        max={MAX_SWINGS}
        step={5}
        onChange={(chosen) => model.change({ swingsPerBlock: chosen })}
      />
      <p class="soft">
        {rounds * swingsPerBlock} swings{kits.length > 1 ? ' with each kit' : ''}; about 40 are
        common.
      </p>
    </>
  );
}
