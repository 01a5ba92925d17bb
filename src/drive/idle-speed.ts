import type { Build } from '../build-sheet/build.ts';
import { quantile } from '../signal/quantile.ts';

const RUNNING_RPM = 350;
const PLAUSIBLE_IDLE_RPM = [450, 1600] as const;
const ASSUMED_IDLE_RPM = 850;

/** Warm idle speed, rpm: from the build sheet, else a low quantile of the running engine's speeds where that is plausible. */
export function idleSpeedRpm(build: Build, engineSpeed: Float64Array): number {
  if (build.engine.idleRpm !== undefined) return build.engine.idleRpm;
  const running = engineSpeed.filter((rpm) => rpm > RUNNING_RPM);
  if (running.length === 0) return ASSUMED_IDLE_RPM;
  const low = quantile(running, 0.05);
  return low >= PLAUSIBLE_IDLE_RPM[0] && low <= PLAUSIBLE_IDLE_RPM[1] ? low : ASSUMED_IDLE_RPM;
}
