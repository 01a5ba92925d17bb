/** `PROPERTY_RUNS=20 npx vitest run tests/property` runs every property that many times longer. */
const LONGER = Number(process.env.PROPERTY_RUNS ?? 1);

export const runs = (usual: number): number => Math.round(usual * LONGER);
