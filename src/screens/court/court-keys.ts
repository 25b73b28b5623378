import type { CourtModel } from './court-model.ts';

/** What single keys do; digits give points, best first. */
const KEYS: Readonly<Record<string, (model: CourtModel) => void>> = {
  u: (model) => model.undo(),
  d: (model) => model.discard(),
  // A presenter's remote: on goes down the score steps from the best, back goes up again, its third key leaves out.
  PageDown: (model) => model.stepScore(1),
  PageUp: (model) => model.stepScore(-1),
  '.': (model) => model.discard(),
  b: (model) => model.discard(),
};

/** Acts on a key pressed anywhere on the court. */
export function pressCourtKey(model: CourtModel, event: KeyboardEvent): void {
  if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement) {
    return;
  }
  const points = model.description.scoreSteps[Number(event.key) - 1];
  const act =
    points !== undefined
      ? () => model.score(points)
      : KEYS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (act === undefined) return;
  event.preventDefault();
  act(model);
}
