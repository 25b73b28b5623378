import { Choice } from '../controls/Choice.tsx';
import { Tick } from '../controls/Tick.tsx';
import { hasBand } from './kit-entry.ts';
import { blocksOf } from './plan-entry.ts';
import type { PlanModel } from './plan-model.ts';

/** What the player is told of each swing. */
export function FeedbackFields({ model }: { readonly model: PlanModel }) {
  const entry = model.entry.value;
  const { feedback, kits } = entry;
  const isBandKnown = kits.some(hasBand);
  const canFade = blocksOf(entry).length > 1;
  const change = (part: Partial<typeof feedback>): void =>
    model.change({ feedback: { ...feedback, ...part } });
  return (
    <>
      <Choice
        name="cue"
        stacked
        legend="After a swing the player hears"
        value={feedback.cue}
        onChange={(cue) => change({ cue })}
        options={[
          { value: 'none', label: 'Nothing: the ball says enough' },
          { value: 'tone', label: 'A tone: short, and leaves the eyes free' },
          { value: 'speech', label: 'The reach, spoken: says by how much' },
        ]}
      />
      {feedback.cue !== 'none' && (
        <div class="fields">
          <p class="soft">Who hears something after every ball comes to depend on it.</p>
          <Tick
            label="Only off the band"
            hint={isBandKnown ? 'Silence means good.' : 'Needs a reach hoped for, under Kit.'}
            isDisabled={!isBandKnown}
            isTicked={feedback.isOnlyOffBand && isBandKnown}
            onChange={(isOnlyOffBand) => change({ isOnlyOffBand })}
          />
          <Tick
            label="Ever less often"
            hint={
              canFade
                ? 'Every swing in the first block, one in four in the last.'
                : 'Needs more than one block.'
            }
            isDisabled={!canFade}
            isTicked={feedback.isFading && canFade}
            onChange={(isFading) => change({ isFading })}
          />
        </div>
      )}
    </>
  );
}
