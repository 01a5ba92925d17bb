const { readFileSync, statSync } = require('node:fs');
const Module = require('node:module');
const { join } = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

const programPath = join(__dirname, '..', 'dist', 'pullgate.cjs');
const codeCachePath = join(__dirname, '..', 'dist', 'pullgate.cache');

// Room for short-lived objects that does not grow: touching fresh memory is dear in so short a run. A folder of logs pays 4 % for it.
setFlagsFromString('--semi-space-growth-factor=1');
// Machine code only for what runs four times as long as usual: most functions run for a moment here, and compiling them took the other core.
setFlagsFromString('--interrupt-budget=270000');

/** Runs the built program. Newer Node keeps compiled code by itself; for Node 20 the build left it beside the program. */
function runProgram() {
  if (Module.enableCompileCache) {
    Module.enableCompileCache();
    require(programPath);
  } else {
    runScript(codeCache());
  }
}

/** Runs the program from its text, with compiled code where Node accepts it (same version, same flags), else without. The build made the text ASCII. */
function runScript(cachedData) {
  const script = new Script(Module.wrap(readFileSync(programPath, 'latin1')), { filename: programPath, cachedData });
  script.runInThisContext()({}, require, module, programPath, join(__dirname, '..', 'dist'));
  return script;
}

function codeCache() {
  try {
    return statSync(codeCachePath).mtimeMs >= statSync(programPath).mtimeMs ? readFileSync(codeCachePath) : undefined;
  } catch {
    return undefined;
  }
}

module.exports = { codeCachePath, programPath, runProgram, runScript };
