import { printable } from '../render/terminal/printable.ts';
import { redactText } from '../report/redact.ts';
import type { Io } from './io.ts';

/** A message for the person at the keyboard: on standard error, safe to print, without personal numbers. */
export function printMessage(io: Io, message: string): void {
  const lines = redactText(message).split('\n').map(printable);
  io.err(`pullgate: ${lines.join('\n')}\n`);
}
