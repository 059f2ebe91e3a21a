/** Kind of evidence: the same file fitted anew with the priors of its slopes halved and doubled. */
import { describe, expect, test } from "vitest";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import { projectProtocol } from "../../src/projection/project-protocol.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { sensitivityWords } from "../../src/tables/projection-support-table.js";
import { handMadeRegister, quickOptions, registerPairs } from "./hand-made-register.js";

const protocol = parsePrescription("4 x 5 x 6 s at 90%, rest 6 s, 3/week, 12 weeks, middle");

/** Eight studies, and three of them with far more error, in which the priors weigh more. */
const registers = {
  eight: registerPairs,
  three: registerPairs.slice(0, 6).map((one) => ({ ...one, variance: 0.02 })),
};

/** With one shape the exchange is exact but for what is drawn together; over shapes 600 models are drawn. */
describe.each([
  ["eight", ["logarithm"], 0.02],
  ["three", ["logarithm"], 0.02],
  ["eight", undefined, 0.1],
  ["three", undefined, 0.1],
] as const)("%s studies, shapes %j", (name, shapes, bound) => {
  const projected = (slopeDeviation?: number) => {
    const prepared = prepareProjection(handMadeRegister(registers[name]), {
      ...quickOptions,
      ...(shapes === undefined ? {} : { shapes }),
      ...(slopeDeviation === undefined ? {} : { priors: { slopeDeviation } }),
    });
    const projection = projectProtocol(prepared, protocol, { course: false });
    if (prepared.kind === "refusal" || projection.kind === "refusal") throw new Error("refused");
    return {
      middle: projection.ranges.average.percent.estimate,
      quick: projection.support.priorSensitivity,
      deviation: prepared.priors.slopeDeviation,
    };
  };
  const usual = projected();

  test(`exchanging the priors gives what fitting anew gives, within ${bound} points`, () => {
    const [halved, doubled] = [0.5, 2].map((factor) => projected(factor * usual.deviation).middle);
    expect(Math.abs(halved! - usual.middle)).toBeGreaterThan(bound);
    expect(Math.abs(usual.quick!.halved - halved!)).toBeLessThan(bound);
    expect(Math.abs(usual.quick!.doubled - doubled!)).toBeLessThan(bound);
  });

  test("flat priors have nothing to halve", () => {
    expect(projected(Infinity).quick).toBe(undefined);
  });
});

test("said in one sentence: the larger of the two moves, and both middles", () => {
  expect(sensitivityWords(8.54, { halved: 8.43, doubled: 8.57 })).toBe(
    "Halving or doubling the starting assumptions about what a dose changes moves the middle by at most 0.1 points (halved 8.4%, doubled 8.6%).",
  );
  expect(sensitivityWords(1.86, { halved: 4.73, doubled: -1.14 })).toContain(
    "by at most 3.0 points (halved 4.7%, doubled −1.1%)",
  );
  expect(sensitivityWords(1, undefined)).toBe("");
});
