import { describe, expect, it } from 'vitest';
import { createSteadyTarget } from '../../src/screens/court/steady-target.ts';
import { courtSwing } from './court-swings.ts';

function steady() {
  const clock = { ms: 10_000 };
  return { clock, target: createSteadyTarget(() => clock.ms) };
}

describe('a tap just after a new swing', () => {
  it('means the swing that was there before, for 0.4 s', () => {
    const { clock, target } = steady();
    target.look(courtSwing(1));
    clock.ms += 6000;
    target.look(courtSwing(2));
    expect(target.stillMeant()).toBe(6e6);
    clock.ms += 399;
    // the same swing seen again in later views changes nothing
    target.look(courtSwing(2));
    expect(target.stillMeant()).toBe(6e6);
    clock.ms += 2;
    expect(target.stillMeant()).toBeNull();
  });

  it('means the first swing at once: there was none before', () => {
    const { target } = steady();
    target.look(null);
    target.look(courtSwing(1));
    expect(target.stillMeant()).toBeNull();
  });

  it('does not go back to a swing after a discard was undone', () => {
    const { target } = steady();
    target.look(courtSwing(4));
    target.look(null);
    target.look(courtSwing(4));
    expect(target.stillMeant()).toBeNull();
  });
});
