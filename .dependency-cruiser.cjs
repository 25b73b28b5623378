// What each folder may import. Everything not listed is forbidden, packages and Node included.
const core = (...folders) => `^src/core/(${folders.join('|')})/`;
const npm = (...packages) => `node_modules/(${packages.join('|')})/`;

const CORE_WITHOUT_SIMULATOR = '^src/core/(?!simulator/)';
const MATHS = ['maths', 'statistics'];

const MAY_IMPORT = {
  'core/maths': [core('maths'), npm('pure-rand')],
  'core/statistics': [core(...MATHS), npm('@stdlib')],
  'core/packets': [core('packets', 'maths')],
  'core/clocks': [core('clocks', 'packets', ...MATHS)],
  'core/orientation': [core('orientation', ...MATHS), npm('ahrs')],
  'core/calibration': [core('calibration', 'maths')],
  'core/arm': [core('arm', 'orientation', 'clocks', ...MATHS)],
  'core/swings': [core('swings', 'arm', 'orientation', 'clocks', ...MATHS)],
  'core/measures': [core('measures', 'swings', 'arm', ...MATHS), npm('pure-rand')],
  'core/recording': [
    core('recording', 'packets', 'arm', 'calibration', 'maths'),
    npm('@mcap/core', '@foxglove/crc', 'd3-dsv'),
  ],
  'core/plan': [core('plan', 'recording', 'maths'), npm('pure-rand')],
  'core/kit': [core('kit', 'calibration', 'clocks', 'packets', ...MATHS)],
  'core/pipeline': [CORE_WITHOUT_SIMULATOR],
  'core/exports': [CORE_WITHOUT_SIMULATOR, npm('hyparquet-writer', 'd3-dsv')],
  'core/simulator': [
    core('simulator', 'packets', 'recording', 'arm', 'calibration', ...MATHS),
    npm('pure-rand'),
  ],
  devices: ['^src/(devices|core)/', npm('rxjs')],
  storage: ['^src/storage/', CORE_WITHOUT_SIMULATOR, npm('idb')],
  worker: ['^src/(worker|storage)/', CORE_WITHOUT_SIMULATOR, npm('fflate')],
  'screens/chart': [
    '^src/screens/',
    CORE_WITHOUT_SIMULATOR,
    npm('preact', '@preact/signals', 'uplot'),
  ],
  screens: [
    '^src/(screens|devices|reports)/',
    '^src/worker/contract\\.ts$',
    CORE_WITHOUT_SIMULATOR,
    npm('preact', '@preact/signals', 'rxjs'),
  ],
  reports: ['^src/reports/', CORE_WITHOUT_SIMULATOR],
  batch: ['^src/(batch|reports|core)/', npm('cli-progress', '@types/cli-progress')],
};

const folderRules = Object.entries(MAY_IMPORT).map(([folder, allowed]) => ({
  name: folder.replace('/', '-'),
  severity: 'error',
  from: {
    path: `^src/${folder}/`,
    ...(folder === 'screens' ? { pathNot: '^src/screens/chart/' } : {}),
  },
  to: {
    pathNot: allowed,
    ...(folder === 'batch' ? { dependencyTypesNot: ['core'] } : {}),
  },
}));

const KNOWN_FOLDERS = Object.keys(MAY_IMPORT).map((folder) => `^src/${folder}/`);

module.exports = {
  forbidden: [
    ...folderRules,
    {
      name: 'unknown-folder',
      comment: 'A folder missing from MAY_IMPORT would escape every rule.',
      severity: 'error',
      from: { path: '^src/', pathNot: KNOWN_FOLDERS },
      to: {},
    },
    {
      name: 'screens-run-little-core',
      comment: 'The pipeline runs in the worker; screens name its types and use its results.',
      severity: 'error',
      from: { path: '^src/screens/' },
      to: {
        path: '^src/core/',
        pathNot: [
          core('measures', 'arm', 'plan', 'kit', ...MATHS),
          '^src/core/recording/conditions\\.ts$',
        ],
        dependencyTypesNot: ['type-only'],
      },
    },
    {
      name: 'contract-types-only',
      comment: 'Anything else would pull worker code into the main thread.',
      severity: 'error',
      from: { path: '^src/screens/' },
      to: { path: '^src/worker/', dependencyTypesNot: ['type-only'] },
    },
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'no-orphans',
      severity: 'error',
      from: { orphan: true, pathNot: '\\.d\\.ts$' },
      to: {},
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    // Without it type-only imports are invisible, and a layer could lean on another's types.
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'default'],
      extensions: ['.ts', '.tsx', '.js', '.mjs', '.css', '.json'],
    },
  },
};
