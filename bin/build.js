// Part of the build: the program and all it imports as one file.
const { join } = require('node:path');
const { build } = require('esbuild');
const { programPath } = require('./program.js');

const root = join(__dirname, '..');

/** jsonc-parser makes 1,200 texts of blanks when it is loaded, for formatting, which nobody here asks for. */
const withoutBlanks = {
  name: 'without-blanks',
  setup({ onResolve }) {
    onResolve({ filter: /^\.\/string-intern$/ }, ({ path, resolveDir }) => ({
      path: join(resolveDir, `${path}.js`),
      sideEffects: false,
    }));
  },
};

build({
  absWorkingDir: root,
  entryPoints: ['src/cli/main.ts'],
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  minify: true,
  legalComments: 'none',
  mainFields: ['module', 'main'],
  define: { 'import.meta.url': '__filename' },
  alias: { 'node:child_process': './src/cli/no-child-process.ts' },
  plugins: [withoutBlanks],
  outfile: programPath,
  logLevel: 'warning',
}).catch(() => {
  process.exitCode = 1;
});
