import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface Props {
  readonly title: string;
  /** What is planned now, read without opening. */
  readonly now: ComponentChildren;
  readonly startsOpen?: boolean;
  readonly children: ComponentChildren;
}

/** One part of the plan: closed it says what is planned, open it can be changed. */
export function PlanSection({ title, now, startsOpen = false, children }: Props) {
  // Later it is open or closed as the coach leaves it.
  const [isOpenAtFirst] = useState(startsOpen);
  return (
    <details
      class="plan-section"
      open={isOpenAtFirst}
      // A field that is wrong must be seen to be mended.
      onInvalidCapture={(event) => {
        event.currentTarget.open = true;
      }}
    >
      <summary>
        <h2>{title}</h2>
        <span>{now}</span>
      </summary>
      <div class="plan-fields">{children}</div>
    </details>
  );
}
