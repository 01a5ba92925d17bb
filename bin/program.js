const { closeSync, existsSync, openSync, readSync, statSync } = require('node:fs');
const { join } = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

const programPath = join(__dirname, '..', 'dist', 'pullgate.cjs');
const codeCachePath = join(__dirname, '..', 'dist', 'pullgate.cache');
/** Letters by which a program and its compiled code know each other: the end of both files. */
const MARK_LENGTH = 16;

// Node's own modules come with compiled code, which is taken with the flags that Node started with and no others: what a command needs is loaded before these change.
const isAskedForWork = process.argv.length > 3;
for (const name of isAskedForWork ? ['node:process', 'node:crypto'] : ['node:process']) require(name);

// Room for short-lived objects that does not grow: touching fresh memory is dear in so short a run. A folder of logs pays 4 % for it.
setFlagsFromString('--semi-space-growth-factor=1');
// Machine code only for what runs four times as long as usual: most functions run for a moment here, and compiling them took the other core.
setFlagsFromString('--interrupt-budget=270000');

/** From here on Node keeps compiled code by itself. */
const KEEPS_COMPILED_CODE = 22;

/** Runs the built program. For Node 20 the build left its compiled code beside it. */
function runProgram() {
  if (Number.parseInt(process.versions.node, 10) >= KEEPS_COMPILED_CODE) {
    // Not asked for where it is of no use: it brings the whole loader of modules along.
    require('node:module').enableCompileCache?.();
    require(programPath);
  } else {
    runScript(existsSync(codeCachePath));
  }
}

/** Runs the program from its text, with compiled code where Node accepts it (same version, same flags), else without. The build made the text ASCII. */
function runScript(withCodeCache) {
  const paths = withCodeCache ? [programPath, codeCachePath] : [programPath];
  const sizes = paths.map((path) => statSync(path).size);
  // One piece of memory for both files, one after the other: touching fresh memory is dear.
  const memory = Buffer.allocUnsafeSlow(Math.max(...sizes));
  const text = fill(memory, programPath).latin1Slice();
  const cachedData = withCodeCache ? codeOf(text, fill(memory, codeCachePath)) : undefined;
  const script = new Script(text, { filename: programPath, cachedData });
  script.runInThisContext()(require, programPath);
  return script;
}

/** The compiled code in a file that ends with the mark of the program it was made from; nothing where that is another program: Node itself compares no more than the length. */
function codeOf(text, file) {
  const end = Math.max(0, file.length - MARK_LENGTH);
  return text.endsWith(`${file.latin1Slice(end)}\n`) ? file.subarray(0, end) : undefined;
}

/** The file's bytes, at the beginning of the memory given. */
function fill(memory, path) {
  const file = openSync(path);
  try {
    let size = 0;
    let read = 0;
    do {
      read = readSync(file, memory, size, memory.length - size);
      size += read;
    } while (read > 0);
    return memory.subarray(0, size);
  } finally {
    closeSync(file);
  }
}

module.exports = { MARK_LENGTH, codeCachePath, programPath, runProgram, runScript };
