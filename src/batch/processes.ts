import { type ChildProcess, fork } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';

/**
 * Gives every item to one of several processes and gathers what they answer.
 * @param script a module that calls {@link answerItems}
 * @param items plain data
 * @param onAnswer called as answers come, in any order
 * @param processes how many; all cores unless said
 * @returns answers in the order of the items
 * @throws Error when a process ends before it has answered
 */
export async function mapInProcesses<Item, Answer>(
  script: URL,
  items: readonly Item[],
  onAnswer: (answer: Answer, index: number) => void = () => {},
  processes = availableParallelism(),
): Promise<Answer[]> {
  const answers = new Array<Answer>(items.length);
  let next = 0;
  const work = async (): Promise<void> => {
    if (next >= items.length) return;
    const child = fork(fileURLToPath(script), { serialization: 'advanced' });
    try {
      while (next < items.length) {
        const index = next++;
        answers[index] = await askOf<Answer>(child, items[index]);
        onAnswer(answers[index], index);
      }
    } finally {
      child.kill();
    }
  };
  await Promise.all(Array.from({ length: Math.min(processes, items.length) }, work));
  return answers;
}

function askOf<Answer>(child: ChildProcess, item: unknown): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const onExit = (code: number | null) =>
      reject(new Error(`a process ended with code ${code} before it had answered`));
    child.once('exit', onExit);
    child.once('message', (answer) => {
      child.off('exit', onExit);
      resolve(answer as Answer);
    });
    child.send(item as object);
  });
}

/** In a process of {@link mapInProcesses}: answers every item. An exception ends the process. */
export function answerItems<Item, Answer>(answer: (item: Item) => Answer): void {
  process.on('message', (item) => process.send?.(answer(item as Item)));
}
