import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import {
  dependencyRows,
  packageName,
  readLock,
  readManifest,
  readRootFile,
  section,
  shipped,
  withInstallScripts,
} from './installed-packages.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const manifest = readManifest();
const lock = readLock();
const table = section(readRootFile('DEVELOPERS.md'), 'Dependencies');
const rows = dependencyRows(table);
const direct = { ...manifest.dependencies, ...manifest.devDependencies };

/** Permissive, and kept by shipping the texts (dist/licences.txt). SPDX identifiers: https://spdx.org/licenses/. */
const MAY_BE_SHIPPED = [
  'MIT',
  'ISC',
  '0BSD',
  'BSD-3-Clause',
  'Apache-2.0',
  'Apache-2.0 AND BSL-1.0',
];
/** Its metadata says APSL-2.0, its licence file is Apache-2.0: that of this version was read. */
const READ_BY_HAND = {
  name: 'ahrs',
  version: '1.3.3',
  says: 'APSL-2.0',
  text: /^\s*Apache License\s+Version 2\.0/,
};

function licenceText(folder: string): string {
  const name = readdirSync(root + folder).find((file) => /^licen[cs]e/i.test(file));
  return name === undefined ? '' : readFileSync(`${root}${folder}/${name}`, 'utf8');
}

describe('the table of dependencies', () => {
  it('has a row for every dependency and none for anything else', () => {
    expect(rows.flatMap(({ names }) => names).sort()).toEqual(Object.keys(direct).sort());
  });

  it('names the licence that the package names', () => {
    const wrong = rows.flatMap(({ names, licence }) =>
      names.filter((name) => lock.get(`node_modules/${name}`)?.license !== licence),
    );
    expect(wrong).toEqual([]);
  });
});

describe('what is installed', () => {
  it('is one exact version each, with the checksum of its archive in the lock file', () => {
    expect(Object.entries(direct).filter(([, version]) => !/^\d+\.\d+\.\d+/.test(version))).toEqual(
      [],
    );
    const unsealed = [...lock].filter(([, { integrity }]) => !integrity?.startsWith('sha512-'));
    expect(unsealed.map(([folder]) => folder)).toEqual([]);
  });

  it('and shipped has a permissive licence and its text', () => {
    const strange = shipped(lock).filter(
      ([folder, { license, version }]) =>
        !MAY_BE_SHIPPED.includes(license ?? '') &&
        !(
          packageName(folder) === READ_BY_HAND.name &&
          version === READ_BY_HAND.version &&
          license === READ_BY_HAND.says &&
          READ_BY_HAND.text.test(licenceText(folder))
        ),
    );
    expect(strange).toEqual([]);
    const silent = shipped(lock).filter(([folder]) => licenceText(folder).length < 500);
    expect(silent.map(([folder]) => folder)).toEqual([]);
  });

  it('runs no script of its own: each that would is named, refused and explained', () => {
    const named = Object.keys(manifest.allowScripts).sort();
    expect(withInstallScripts(lock).sort()).toEqual(named);
    expect(Object.values(manifest.allowScripts)).toEqual(named.map(() => false));
    const explained =
      table.split('\n\n').find((text) => text.startsWith('**Install scripts**')) ?? '';
    expect(named.filter((name) => !explained.includes(`\`${name}\``))).toEqual([]);
    // What an npm that does not know allowScripts goes by.
    expect(readRootFile('.npmrc').split('\n')).toContain('ignore-scripts=true');
  });
});

describe('these checks', () => {
  it('see a row too many, one that is missing, and several names in one', () => {
    const text = '| package | licence |\n|---|---|\n| `a`, `@b/c` | MIT | x |\n| `d` | ISC | y |\n';
    expect(dependencyRows(text)).toEqual([
      { names: ['a', '@b/c'], licence: 'MIT' },
      { names: ['d'], licence: 'ISC' },
    ]);
  });

  it('tell what is shipped from what is not, however deep it lies', () => {
    const packages = new Map([
      ['node_modules/a', { version: '1.0.0' }],
      ['node_modules/a/node_modules/@b/c', { version: '1.0.0', license: 'GPL-3.0-only' }],
      ['node_modules/d', { version: '1.0.0', dev: true }],
      ['node_modules/e', { version: '1.0.0', devOptional: true }],
    ]);
    const names = shipped(packages).map(([folder]) => packageName(folder));
    expect(names).toEqual(['a', '@b/c']);
  });

  it('see a script that the lock file alone knows of', () => {
    const packages = new Map([
      ['node_modules/not-here', { version: '1.0.0', hasInstallScript: true }],
    ]);
    expect(withInstallScripts(packages)).toEqual(['not-here']);
  });
});
