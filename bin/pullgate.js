#!/usr/bin/env node
const { existsSync } = require('node:fs');
const { programPath, runProgram } = require('./program.js');

if (existsSync(programPath)) {
  runProgram();
} else {
  process.stderr.write('pullgate: the program is not built. Run "npm ci" in its folder first.\n');
  process.exitCode = 2;
}
