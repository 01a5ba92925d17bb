// Part of the build: runs the program once over the demo logs and keeps the code that Node compiled on the way.
const { rmSync, writeFileSync } = require('node:fs');
const { join } = require('node:path');
const { codeCachePath, runScript } = require('./program.js');

rmSync(codeCachePath, { force: true });
process.argv = [
  ...process.argv.slice(0, 2),
  'check',
  join(__dirname, '..', 'demo-logs', 'saloon-knock-on-one-cylinder'),
  '--no-color',
];
process.stdout.write = () => true;
process.stderr.write = () => true;
process.on('exit', () => {
  process.exitCode = 0;
  writeFileSync(codeCachePath, script.createCachedData());
});
const script = runScript(undefined);
