import { readTable } from "../../src/csv/read-table.js";
import { variableTable } from "../../src/dose/variable-table.js";
import { effectSubset } from "../../src/effects/effect-subset.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { readRecords } from "../../src/records/read-records.js";
import { effectInputs } from "../../src/synthesis/effect-inputs.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { mustHold, type Bench } from "./bench.js";
import { longRegister } from "./long-register.js";
import { shortestInTurns } from "./timing.js";

const armsWanted = 100;
const fits = 10;

/** The whole table of variables against ten single multilevel fits of the same file. */
export const variableTableBench: Bench = {
  name: "variable-table",
  title: "All variables of a file of 100 arms, against ten multilevel fits of that file",
  run: (progress) => {
    const { rows } = readRecords(readTable(longRegister(600)));
    const all = effectsFromRows(rows, { contrast: "change-within-arm" });
    const armOf = ({ cohort, arm }: (typeof all.effects)[number]): string => `${cohort} / ${arm}`;
    const arms = new Set([...new Set(all.effects.map(armOf))].slice(0, armsWanted));
    const set = effectSubset(all, (effect) => arms.has(armOf(effect)));
    mustHold(`the file has ${armsWanted} arms`, arms.size === armsWanted);
    const { effects, covariances } = effectInputs(set);
    const table = variableTable(set);
    mustHold(
      "the table answers at least a quarter of its questions",
      table.questions >= table.rows.length / 4,
    );
    const tenFits = (): void => {
      for (let fit = 0; fit < fits; fit += 1)
        fitMultilevel(effects, {
          levels: ["study", "arm", "effect_id"],
          knownCovariances: covariances,
        });
    };
    progress("timing the table and ten fits");
    const [whole, single] = shortestInTurns([() => variableTable(set), tenFits], 8);
    return Promise.resolve([
      {
        what: "whole table of variables",
        value: whole! / single!,
        unit: "times" as const,
        goal: { atMost: 1 },
        how: `${table.rows.length} rows (variables × families) from ${effects.length} effects of ${armsWanted} arms, as a multiple of the time of ${fits} multilevel fits of all effects; shortest of eight, in turns`,
      },
      { what: "whole table of variables", value: whole!, unit: "seconds" as const },
      { what: `${fits} multilevel fits`, value: single!, unit: "seconds" as const },
    ]);
  },
};
