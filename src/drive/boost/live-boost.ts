import { oncePer } from '../../kernel/once-per.ts';
import type { Drive } from '../drive.ts';
import { froze } from '../health/frozen.ts';
import { type BoostPull, settledBoost } from './settled-boost.ts';

/** Boost of the pulls that can be told: without those in which manifold pressure froze. */
export const liveBoost = oncePer((drive: Drive): readonly BoostPull[] =>
  settledBoost(drive).filter(({ pull }) => !froze(drive, ['manifold_pressure'], pull)),
);
