import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { CallError } from "../../src/errors.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { compareProtocols } from "../../src/projection/compare-protocols.js";
import { exploreProtocols } from "../../src/projection/explore-protocols.js";
import {
  prepareProjection,
  type PreparedProjection,
  type ReadyProjection,
} from "../../src/projection/prepare-projection.js";
import { placedProtocol, type PlacedProtocol } from "../../src/projection/placed-protocol.js";
import { projectProtocol } from "../../src/projection/project-protocol.js";
import { projectionShapes } from "../../src/projection/projection-shapes.js";
import { projectionPriors } from "../../src/projection/projection-priors.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { readRecords } from "../../src/records/read-records.js";
import { handMadeRegister, quickOptions, registerPairs } from "./hand-made-register.js";

const ready = (prepared: PreparedProjection): ReadyProjection => {
  if (prepared.kind !== "ready") throw new Error(prepared.reason);
  return prepared;
};
const protocol = parsePrescription("4 x 5 x 6 s at 75%, rest 6 s, 3/week, 8 weeks, middle");
const rangesOf = (prepared: PreparedProjection, p = protocol) => {
  const projection = projectProtocol(prepared, p, { course: false });
  if (projection.kind !== "projection") throw new Error(projection.reason);
  const { average, newGroup, person } = projection.ranges;
  return [average, newGroup, person].flatMap(({ low, estimate, high }) => [low, estimate, high]);
};
const expectSame = (a: readonly number[], b: readonly number[], tolerance: number): void => {
  expect(b).toHaveLength(a.length);
  a.forEach((value, i) => expect(Math.abs(value - b[i]!)).toBeLessThan(tolerance));
};

const base = ready(prepareProjection(handMadeRegister(), quickOptions));

describe("the demonstration register", () => {
  const { rows } = readRecords(readTable(demoRegisterCsv()));
  const set = effectsFromRows(rows, {
    scale: "log-ratio-of-means",
    contrast: "change-within-arm",
  });

  test("rapid force, which it does not hold, is refused without fuss everywhere", () => {
    const refused = prepareProjection(set, { goal: "rapid force", rows });
    if (refused.kind !== "refusal") throw new Error("not refused");
    expect(refused.reason).toContain('no effect for the goal "rapid force"');
    expect(projectProtocol(refused, protocol)).toMatchObject({
      kind: "refusal",
      goal: "rapid force",
      reason: refused.reason,
    });
    expect(compareProtocols(refused, [protocol, protocol])).toMatchObject({
      kind: "refusal",
      reason: refused.reason,
    });
    expect(
      exploreProtocols(refused, {
        minutesPerSession: 20,
        sessionsPerWeek: 3,
        effortCeilingPercent: 90,
      }),
    ).toMatchObject({ kind: "refusal", reason: refused.reason });
  });

  test("size: the fit settles within the tolerance it states, and people's spread comes from the file", () => {
    const size = ready(prepareProjection(set, { goal: "size", rows }));
    expect(size.quadrature.largestChange).toBeLessThanOrEqual(1e-4);
    expect(size.quadrature.components).toBe(600);
    // drawing components together is for one model alone; an average draws them from all
    const one = ready(prepareProjection(set, { goal: "size", rows, shapes: ["logarithm"] }));
    expect(one.quadrature.largestChange).toBeLessThanOrEqual(1e-4);
    expect(one.quadrature.largestCondensingError).toBeLessThanOrEqual(1e-4);
    expect(one.quadrature.models).toBe(1);
    expect(size.individual.source).toBe("the file's trained and control arms");
    expect(size.individual.comparisons).toBeGreaterThan(2);
    // the register's own response has deviation 0.035, controls show 0.4 of it: √(1 − 0.16) of that is left
    const left = 0.035 * Math.sqrt(1 - 0.16);
    expect(size.individual.interval.low).toBeLessThan(left);
    expect(size.individual.interval.high).toBeGreaterThan(left);
    expect(size.people).toBeGreaterThan(size.arms.length);
  });
});

describe("shapes of a dose", () => {
  test("stand in words with their weights, before and after the trials", () => {
    const [effort] = base.design.predictors;
    const { shapes, definition } = effort!;
    expect(shapes!.map(({ shape }) => shape)).toEqual([...projectionShapes]);
    expect(shapes!.map(({ prior }) => prior)).toEqual([0.25, 0.25, 0.25, 0.25]);
    expect(shapes!.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    const most = [...shapes!].sort((a, b) => b.weight - a.weight)[0]!;
    expect(definition).toContain(
      `intensity against 75% of MVC: ${most.shape} ${Math.round(100 * most.weight)}%, `,
    );
    expect(base.quadrature.models).toBe(12);
  });

  test("one that is asked for is the whole model, and flat slopes leave the logarithm", () => {
    const straight = ready(
      prepareProjection(handMadeRegister(), { ...quickOptions, shapes: ["straight line"] }),
    );
    expect(straight.design.predictors[0]!.definition).toBe(
      "intensity against 75% of MVC: straight line",
    );
    // every further point of effort adds the same
    const at = (intensityPercent: number): number => {
      const { means } = placedProtocol(straight, {
        ...protocol,
        intensityPercent,
      }) as PlacedProtocol;
      return means.reduce((sum, mean, i) => sum + straight.posterior.weights[i]! * mean, 0);
    };
    expect(at(80) - at(70)).toBeCloseTo(at(70) - at(60), 12);
    expect(at(70) - at(60)).toBeGreaterThan(0.01);
    const flat = ready(
      prepareProjection(handMadeRegister(), {
        ...quickOptions,
        priors: { slopeDeviation: Infinity },
      }),
    );
    expect(flat.quadrature.models).toBe(1);
    expect(flat.design.predictors[0]!.definition).toBe("intensity against 75% of MVC: logarithm");
  });

  test("effort and hold have their product in half of the models, unless its prior is zero", () => {
    const holds = registerPairs.map((one, i) => ({
      ...one,
      row: { ...one.row, holdSeconds: [3, 6, 12, 5][(3 * i) % 4]!, repetitions: 4 + (i % 3) },
    }));
    const both = (interactionDeviation?: number) =>
      ready(
        prepareProjection(handMadeRegister(holds), {
          ...quickOptions,
          ...(interactionDeviation === undefined ? {} : { priors: { interactionDeviation } }),
        }),
      );
    expect(both().design.choices.map(({ of }) => of)).toContain("intensity × hold length");
    const words = both().design.predictors.map(({ definition }) => definition);
    expect(words.join("\n")).toMatch(/intensity counts differently in longer holds \d+%/);
    expect(both(0).design.choices.map(({ of }) => of)).not.toContain("intensity × hold length");
    expect(both(0).priorWords.map(({ prior }) => prior)).toContain("left out");
  });
});

describe("what a file cannot say is said", () => {
  test("effects that are no log ratios are refused by name", () => {
    expect(() =>
      prepareProjection({ ...handMadeRegister(), scale: "raw-mean-difference" }, quickOptions),
    ).toThrow(CallError);
  });

  test("two studies are too few", () => {
    const refused = prepareProjection(handMadeRegister(registerPairs.slice(0, 4)), quickOptions);
    expect(refused).toMatchObject({ kind: "refusal" });
    expect("reason" in refused && refused.reason).toContain("2 studies");
    expect(
      prepareProjection(handMadeRegister(registerPairs.slice(0, 4)), {
        ...quickOptions,
        fewestStudies: 2,
      }).kind,
    ).toBe("ready");
  });

  test("predictors left out carry their reason", () => {
    const reasons = new Map(base.design.dropped.map(({ name, reason }) => [name, reason]));
    expect([...reasons.keys()].sort()).toEqual([
      "build-up",
      "frequency",
      "hold length",
      "muscle length",
      "tension time",
      "training status",
    ]);
    expect(reasons.get("hold length")).toBe("all arms have hold length 6 s");
    expect(reasons.get("frequency")).toContain("3");
    expect(base.design.predictors.map(({ name }) => name)).toEqual(["effort"]);
    expect(base.design.predictors[0]!.evidence).toBe("within and between studies");
  });

  test("a predictor that follows from those before it is left out", () => {
    // tension time grows with effort in the same proportion: one of the two says it all
    const tied = registerPairs.map((one) => ({
      ...one,
      row: { ...one.row, holdSeconds: one.row!.intensityPercent! / 10 },
    }));
    const prepared = ready(prepareProjection(handMadeRegister(tied), quickOptions));
    const names = prepared.design.predictors.map(({ name }) => name);
    expect(names).toEqual(["effort"]);
    const reasons = prepared.design.dropped.map(({ name, reason }) => `${name}: ${reason}`);
    expect(reasons.join("\n")).toContain("follows from the predictors before it");
  });

  test("effects without weeks are set aside and counted", () => {
    const some = registerPairs.map((one, i) => {
      const { weeks: _, ...row } = one.row!;
      return i < 2 ? { ...one, row } : one;
    });
    const prepared = ready(prepareProjection(handMadeRegister(some), quickOptions));
    expect(prepared.effects).toBe(14);
    expect(prepared.notes.map(({ message }) => message).join("\n")).toContain(
      "2 of 16 effects are set aside because they do not code weeks",
    );
  });

  test("few studies, and one length of programme", () => {
    expect(base.notes.map(({ code }) => code)).toContain("few-studies");
    const eight = registerPairs.map((one) => ({ ...one, row: { ...one.row, weeks: 8 } }));
    const prepared = ready(prepareProjection(handMadeRegister(eight), quickOptions));
    expect(prepared.courseIsIdentified).toBe(false);
    expect(prepared.notes.map(({ code }) => code)).toContain("one-time");
  });

  test("no measurement error of a tendon was read: said, and taken from controls where a file has them", () => {
    const tendon = handMadeRegister(
      registerPairs.map((one) => ({
        ...one,
        row: { ...one.row, outcomeFamily: "tendon" as const },
      })),
    );
    const options = { ...quickOptions, goal: "tendon" } as const;
    const without = ready(prepareProjection(tendon, options));
    expect(without.measurement).toBeUndefined();
    expect(without.notes.map(({ code }) => code)).toContain("no-measurement-error");
    const individual = { ...without.individual, controlDeviation: 0.1 };
    const from = ready(prepareProjection(tendon, { ...options, individual }));
    expect(from.measurement!.deviation).toBeCloseTo(0.1 / Math.SQRT2, 12);
  });
});

test("controls that vary more than the published error stand in its place, a steadier lot does not", () => {
  const from = (controlDeviation: number) =>
    ready(
      prepareProjection(handMadeRegister(), {
        ...quickOptions,
        individual: { ...base.individual, controlDeviation },
      }),
    ).measurement!.deviation;
  expect(from(0.1)).toBeCloseTo(0.1 / Math.SQRT2, 12);
  expect(from(0.01)).toBe(0.05);
  expect(base.measurement!.deviation).toBe(0.05);
});

describe("priors", () => {
  test("are printed with the result, changed ones too", () => {
    const words = base.priorWords.map(({ of, prior }) => `${of}: ${prior}`).join("\n");
    expect(words).toContain(
      "gain of a typical protocol after eight weeks: normal, mean 0, deviation 0.3",
    );
    const changed = ready(
      prepareProjection(handMadeRegister(), { ...quickOptions, priors: { studyScale: 0.02 } }),
    );
    expect(changed.priorWords.map(({ prior }) => prior)).toContain("half-normal, scale 0.02");
    expect(changed.priors).toEqual({
      ...projectionPriors("strength at the trained angle"),
      studyScale: 0.02,
    });
  });

  test("a sharp prior pulls the average to it, a wide one leaves it to the data", () => {
    const sharp = prepareProjection(handMadeRegister(), {
      ...quickOptions,
      priors: { averageDeviation: 0.005 },
    });
    expect(rangesOf(sharp)[1]!).toBeLessThan(0.5 * rangesOf(base)[1]!);
  });
});

describe("what must not matter", () => {
  test("the order of the rows", () => {
    const order = randomStream(5).shuffle([...registerPairs]);
    const shuffled = prepareProjection(handMadeRegister(order), quickOptions);
    expectSame(rangesOf(base), rangesOf(shuffled), 2e-4);
  });

  test("the unit of a predictor: the tension time's reference only moves the intercept", () => {
    const longer = (times: number) =>
      ready(
        prepareProjection(
          handMadeRegister(
            registerPairs.map((one, i) => ({
              ...one,
              row: { ...one.row, holdSeconds: times * (i % 4 < 2 ? 3 : 6), repetitions: 5 },
            })),
          ),
          { ...quickOptions, priors: { averageDeviation: Infinity } },
        ),
      );
    const [once, twice] = [longer(1), longer(2)];
    const p = { ...protocol, holdSeconds: 4 };
    expectSame(rangesOf(once, p), rangesOf(twice, { ...p, holdSeconds: 8 }), 5e-4);
  });

  test("outcomes of other families in the same file", () => {
    const more = [
      ...registerPairs,
      ...registerPairs.map((one) => ({
        ...one,
        row: { ...one.row, outcomeFamily: "size" as const },
      })),
    ];
    expectSame(
      rangesOf(base),
      rangesOf(prepareProjection(handMadeRegister(more), quickOptions)),
      1e-12,
    );
  });
});
