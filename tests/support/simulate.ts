export { type CaseOptions, type GeneratedCase, simulateCase } from '../../fixtures/generator/case.ts';
export { FAULT_KINDS, type FaultKind } from '../../fixtures/generator/fault.ts';
