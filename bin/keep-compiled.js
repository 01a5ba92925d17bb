// Part of the build: makes the program ASCII, runs it once over a demo log and keeps the code that Node compiled on the way.
const { createHash } = require('node:crypto');
const fs = require('node:fs');
const { join } = require('node:path');
const { MARK_LENGTH, codeCachePath, programPath, runScript } = require('./program.js');

// ASCII is read fastest. What the bundler leaves beyond it stands in regular expressions, where the escape means the same.
const escaped = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`;
const program = fs.readFileSync(programPath, 'utf8').replace(/[^\0-\x7f]/g, escaped);

// As a module the file runs; as a script, which knows no "require", it is a function to call: nothing has to be put around so long a text.
const mark = createHash('sha256').update(program).digest('hex').slice(0, MARK_LENGTH);
fs.writeFileSync(
  programPath,
  `((run) => (typeof require === 'function' ? run(require, __filename) : run))((require, __filename) => {${program}});\n//${mark}\n`,
);

fs.rmSync(codeCachePath, { force: true });
// The clean base run, which asks every question: what only a fault needs is compiled when it is found, as code that is kept costs every run.
const car = join(__dirname, '..', 'demo-logs', 'hatchback-first-base-run');
const [log, map] = ['base-run.csv', 'pullgate.map.json'].map((name) => join(car, name));
// The mapping is given and the build sheet looked for, so that both ways are known.
process.argv = [...process.argv.slice(0, 2), 'check', log, '--map', map, '--no-color'];
process.stdout.write = () => true;
process.stderr.write = () => true;
const { writeSync } = fs;
fs.writeSync = (_descriptor, bytes) => bytes.length;
process.on('exit', () => {
  process.exitCode = 0;
  fs.writeSync = writeSync;
  fs.writeFileSync(codeCachePath, Buffer.concat([script.createCachedData(), Buffer.from(mark, 'latin1')]));
});
const script = runScript(false);
