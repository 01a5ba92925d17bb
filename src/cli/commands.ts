import type { Command } from 'commander';
import { defineCheck } from './commands/check.ts';
import { defineExplain } from './commands/explain.ts';
import { defineInit } from './commands/init.ts';
import { defineLimits } from './commands/limits.ts';
import { defineMap } from './commands/map.ts';
import { defineSchema } from './commands/schema.ts';
import { defineSurvey } from './commands/survey.ts';
import type { ExitCode, Io } from './io.ts';

/** Adds a command to the program. What the command needs is loaded when it runs, not before. */
export type DefineCommand = (program: Command, io: Io, exit: (code: ExitCode) => void) => void;

/** Every command, in help order. To add one, write its file and name it here. */
export const COMMANDS: readonly DefineCommand[] = [
  defineCheck,
  defineSurvey,
  defineMap,
  defineExplain,
  defineLimits,
  defineInit,
  defineSchema,
];
