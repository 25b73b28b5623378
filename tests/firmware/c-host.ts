import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe } from 'vitest';

const SOURCES = fileURLToPath(new URL('../../firmware-protocol/c/', import.meta.url));
const COMPILER = 'cc';
const WARNINGS = ['-Wall', '-Wextra', '-Wpedantic', '-Werror', '-Wconversion', '-Wshadow'];
const SANITISERS = ['-fsanitize=address,undefined', '-fno-sanitize-recover=all'];

/** The C reference behind its test driver firmware-protocol/c/host.c. */
export interface CHost {
  /** One line of answer for each command. Fails on a wrong exit, as a sanitiser makes it. */
  run(commands: readonly string[]): string[];
}

function compiles(flags: readonly string[]): boolean {
  const options = { input: 'int main(void) { return 0; }' };
  return spawnSync(COMPILER, [...flags, '-xc', '-', '-o', '/dev/null'], options).status === 0;
}

function cHost(program: string): CHost {
  return {
    run(commands) {
      const input = `${commands.join('\n')}\n`;
      const output = execFileSync(program, { input, encoding: 'utf8', maxBuffer: 2 ** 30 });
      const lines = output.split('\n').slice(0, -1);
      if (lines.length !== commands.length) {
        throw new Error(`${lines.length} answers to ${commands.length} commands`);
      }
      return lines;
    },
  };
}

/** Runs the tests with the C reference compiled plainly, and with sanitisers where there are some. */
export function describeWithC(name: string, tests: (host: CHost) => void): void {
  const hasCompiler = compiles([]);
  if (!hasCompiler) {
    const words = `No C compiler 'cc': ${name} is not tested. Install gcc or clang.`;
    if (process.env.CI) throw new Error(words);
    console.warn(words);
  }
  const hasSanitisers = hasCompiler && compiles(SANITISERS);
  if (hasCompiler && !hasSanitisers) {
    console.warn(`cc knows no address and undefined sanitisers: ${name} runs without them.`);
  }
  const builds = [
    { build: 'plain', flags: ['-O1'], isSkipped: !hasCompiler },
    { build: 'sanitised', flags: ['-O0', ...SANITISERS], isSkipped: !hasSanitisers },
  ];
  for (const { build, flags, isSkipped } of builds) {
    describe.skipIf(isSkipped)(`${name}, ${build}`, { timeout: 60_000 }, () => {
      let folder = '';
      let compiled: CHost;
      beforeAll(() => {
        folder = mkdtempSync(join(tmpdir(), 'rf-c-'));
        const program = join(folder, 'host');
        const files = readdirSync(SOURCES).filter((file) => file.endsWith('.c'));
        const options = ['-std=c99', ...WARNINGS, ...flags, ...files, '-o', program];
        execFileSync(COMPILER, options, { cwd: SOURCES });
        compiled = cHost(program);
      }, 60_000);
      afterAll(() => rmSync(folder, { recursive: true, force: true }));
      tests({ run: (commands) => compiled.run(commands) });
    });
  }
}

/** Bytes as the driver reads them. */
export function toHex(bytes: Uint8Array): string {
  return bytes.length === 0 ? '-' : Buffer.from(bytes).toString('hex');
}

/** Int16 values as the driver reads them. */
export function valuesHex(values: ArrayLike<number>): string {
  const buffer = Buffer.alloc(2 * values.length);
  for (let i = 0; i < values.length; i++) buffer.writeInt16LE(values[i]!, 2 * i);
  return toHex(buffer);
}
