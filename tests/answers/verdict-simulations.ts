/** Invented files whose truth is known, asked the question of variables as a reader asks it. */
import { ask } from "../../src/answers/ask.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import {
  demoFamilies,
  demoTruthDefaults,
  type DemoFamily,
  type DemoFamilyTruth,
  type DemoTruth,
} from "../../src/demo/demo-truth.js";
import type { VariableRow } from "../../src/dose/variable-table.js";
import { evidenceOf } from "./evidence-under-test.js";

const alike = { short: 1, middle: 1, long: 1 } as const;

const withoutDose = (truth: DemoFamilyTruth): DemoFamilyTruth => ({
  ...truth,
  effortHalf: 0,
  holdPower: 0,
  tensionHalfSeconds: 0,
  frequencyHalf: 0,
  weeksConstant: 1e-9,
  lengthFactor: alike,
  fastIntentFactor: 1,
});

/**
 * The demonstration's truth with every variable of a protocol taken out: whatever is trained, for as long as it is
 * trained and at any angle, the average gain is the same. People, studies, arms and tests differ as ever.
 */
export const nullTruth: DemoTruth = {
  ...demoTruthDefaults,
  families: Object.fromEntries(
    demoFamilies.map((family) => [family, withoutDose(demoTruthDefaults.families[family])]),
  ) as Record<DemoFamily, DemoFamilyTruth>,
  carryOverDegrees: { short: 1e9, middle: 1e9, long: 1e9 },
  learningWeeksConstant: 1e-9,
};

/** The rows of the answer about one invented file. */
export const simulatedRows = async (
  options: Readonly<{ seed: number; studies?: number; truth?: DemoTruth }>,
  asked: Readonly<Record<string, unknown>> = {},
): Promise<readonly VariableRow[]> => {
  const { data } = await ask("variables", asked, evidenceOf(demoRegisterCsv(options)));
  return (data as unknown as { rows: readonly VariableRow[] }).rows;
};
