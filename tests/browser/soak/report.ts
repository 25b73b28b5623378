import { readSet, type StoredSet } from '../../../src/core/recording/set-reader.ts';
import { type Account, accountFor } from './account.ts';
import { beyondBounds } from './memory-bounds.ts';
import type { Held } from './memory-probe.ts';
import type { PlayedSet } from './soak-run.ts';

/** A set that ran, and what came of it. */
interface Accounted {
  readonly set: PlayedSet;
  readonly account: Account;
}

const MOST_LINES = 20;

/** Prints tables of memory and accounts. @returns whether everything is explained */
export function printReport(
  before: Held,
  played: readonly PlayedSet[],
  errors: readonly string[],
): boolean {
  const accounted = played.map((set) => ({ set, account: accountOf(set) }));
  printRunning(played);
  printSets(before, accounted);
  const rounded = accounted.reduce((sum, { account }) => sum + account.rounded, 0);
  console.log(`${rounded} packets have a sample that Node rounds to the neighbouring integer.`);
  const wrong = [
    ...accounted.flatMap(({ account }, i) =>
      account.unexplained.map((words) => `set ${i + 1}: ${words}`),
    ),
    ...beyondBounds(before, played),
    ...errors,
  ];
  console.log(wrong.length === 0 ? 'Everything is explained.' : `${wrong.length} unexplained:`);
  for (const words of wrong.slice(0, MOST_LINES)) console.log(`  ${words}`);
  return wrong.length === 0;
}

/** Packets and swings by the file, and what the app said of them against it. */
export function accountOf(set: PlayedSet): Account {
  const { plan, bytes, sentUs, swingsListed, recovered, full } = set;
  const account = accountFor(readOrThrow(bytes), plan);
  const unexplained = [...account.unexplained];
  if (swingsListed !== account.swings) {
    unexplained.push(`listed with ${swingsListed} swings, its file has ${account.swings}`);
  }
  // A second of the coach's time, as the crash tests have it: the page runs so many times faster than life.
  const secondUs = plan.air.speed * 1e6;
  if (full !== null) {
    const storedUs = readOrThrow(full.stored).records.at(-1)?.hostTimeUs ?? 0;
    if (full.toldUs > storedUs + secondUs) {
      unexplained.push(`storage full at ${storedUs / 1e6} s, told at ${full.toldUs / 1e6} s`);
    }
  }
  if (plan.ending === 'reloaded') {
    const leastUs = sentUs - secondUs;
    if (account.untilUs < leastUs) unexplained.push(`ends at ${account.untilUs}, sent ${sentUs}`);
    const told = `${account.swings} swings up to ${clockWords(account.untilUs)}`;
    if (!recovered?.includes(told)) unexplained.push(`told '${recovered}' instead of '${told}'`);
  }
  return { ...account, unexplained };
}

function readOrThrow(bytes: Uint8Array): StoredSet {
  const read = readSet(bytes);
  if (!read.ok) throw new Error(read.error.message);
  return read.set;
}

function clockWords(us: number): string {
  const s = Math.floor(us / 1e6);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
}

const MB = (bytes: number) => (bytes / 1e6).toFixed(1);

function printRow(cells: readonly (string | number)[]): void {
  console.log(cells.map((cell) => String(cell).padStart(9)).join(''));
}

/** The longest set while it ran. */
function printRunning(played: readonly PlayedSet[]): void {
  const longest = played.toSorted((a, b) => b.running.length - a.running.length)[0];
  if (longest === undefined) return;
  console.log(`Set ${played.indexOf(longest) + 1} while it ran; heaps in MB`);
  printRow(['second', 'page', 'worker', 'nodes', 'resident']);
  for (const { atS, held } of longest.running) {
    const { pageBytes, workerBytes, nodes, residentBytes } = held;
    printRow([atS.toFixed(0), MB(pageBytes), MB(workerBytes), nodes, MB(residentBytes)]);
  }
}

/** Everything summed up to the end of each set. */
function printSets(before: Held, accounted: readonly Accounted[]): void {
  console.log('Sums after each set, and what is held at rest; heaps in MB; life: of the page');
  const heads = ['hour', 'sets', 'life', 'page', 'worker', 'nodes', 'listeners', 'resident'];
  const counts = ['swings', 'struck', 'void', 'in gaps', 'sent', 'in files', 'told lost'];
  printRow([...heads, ...counts, 'unexpl.']);
  const heldCells = (held: Held) => [
    MB(held.pageBytes),
    MB(held.workerBytes),
    held.nodes,
    held.listeners,
    MB(held.residentBytes),
  ];
  printRow(['0.00', 0, 0, ...heldCells(before)]);
  const sums = [0, 0, 0, 0, 0, 0, 0, 0];
  let sumS = 0;
  accounted.forEach(({ set, account }, i) => {
    sumS += account.untilUs / 1e6;
    const { swings, struck, voidSwings, missedInGaps, sent, inFile, toldLost } = account;
    const unexplained = account.unexplained.length;
    const own = [swings, struck, voidSwings, missedInGaps, sent, inFile, toldLost, unexplained];
    own.forEach((value, k) => {
      sums[k]! += value;
    });
    printRow([(sumS / 3600).toFixed(2), i + 1, set.life, ...heldCells(set.atRest), ...sums]);
  });
}
