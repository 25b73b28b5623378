import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** What package-lock.json says of one package. */
export interface LockedPackage {
  readonly version: string;
  readonly license?: string;
  readonly integrity?: string;
  /** For development only, itself or because of what needs it. */
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly hasInstallScript?: boolean;
}

/** One row of the table in DEVELOPERS.md. */
export interface DependencyRow {
  readonly names: readonly string[];
  readonly licence: string;
}

export interface PackageManifest {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
  readonly allowScripts: Readonly<Record<string, boolean>>;
}

export function readRootFile(name: string): string {
  return readFileSync(root + name, 'utf8');
}

export function readManifest(): PackageManifest {
  return JSON.parse(readRootFile('package.json')) as PackageManifest;
}

/** Every package in the lock file but this one, by its folder. */
export function readLock(): Map<string, LockedPackage> {
  const { packages } = JSON.parse(readRootFile('package-lock.json')) as {
    packages: Record<string, LockedPackage>;
  };
  return new Map(Object.entries(packages).filter(([folder]) => folder !== ''));
}

/** The name in a folder such as `node_modules/a/node_modules/@b/c`. */
export function packageName(folder: string): string {
  return folder.split('node_modules/').at(-1)!;
}

/** Packages that reach those who use the program. */
export function shipped(
  lock: ReadonlyMap<string, LockedPackage>,
): readonly (readonly [folder: string, LockedPackage])[] {
  return [...lock].filter(([, { dev, devOptional }]) => dev !== true && devOptional !== true);
}

/** The text between a heading of the second level and the next. */
export function section(markdown: string, heading: string): string {
  const from = markdown.indexOf(`\n## ${heading}\n`);
  if (from < 0) throw new Error(`there is no section '${heading}'`);
  const rest = markdown.slice(from + 1);
  const end = rest.indexOf('\n## ');
  return end < 0 ? rest : rest.slice(0, end);
}

/** Rows whose first cell holds names in backticks; the second is the licence. */
export function dependencyRows(text: string): DependencyRow[] {
  const rows = text.matchAll(/^\| *(`[^|]+`) *\| *([^|]+?) *\|/gm);
  return [...rows].map(([, first, licence]) => ({
    names: [...first!.matchAll(/`([^`]+)`/g)].map((name) => name[1]!),
    licence: licence!,
  }));
}

/**
 * Names of packages that would run something of their own while they are installed: as the lock file says, as
 * their own package.json says, or by a binding.gyp, which npm compiles unasked.
 */
export function withInstallScripts(lock: ReadonlyMap<string, LockedPackage>): string[] {
  const names = [...lock].flatMap(([folder, { hasInstallScript }]) =>
    hasInstallScript === true || declaresScript(root + folder) ? [packageName(folder)] : [],
  );
  return [...new Set(names)];
}

function declaresScript(folder: string): boolean {
  // Packages for other systems are in the lock file only.
  if (!existsSync(`${folder}/package.json`)) return false;
  if (existsSync(`${folder}/binding.gyp`)) return true;
  const { scripts = {} } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8')) as {
    scripts?: Record<string, string>;
  };
  return ['preinstall', 'install', 'postinstall'].some((name) => name in scripts);
}
