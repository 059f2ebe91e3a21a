import { describe, expect, test } from "vitest";
import {
  predictorsTable,
  priorsTable,
  projectionModelSentence,
} from "../../src/tables/projection-basis-table.js";
import { nearestTable, supportSentences } from "../../src/tables/projection-support-table.js";
import {
  personSentences,
  projectionAnswer,
  projectionCourseTable,
  projectionRefusalAnswer,
  projectionTable,
} from "../../src/tables/projection-table.js";
import { madeUpProjection, madeUpReady, madeUpSupport } from "./made-up-protocols.js";
import { told } from "./told.js";

/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */

describe("a projection", () => {
  test("its sentence", () => {
    expect(projectionAnswer(madeUpProjection, madeUpReady)).toBe(
      "Size after 12 weeks of this protocol, against no exercise: such studies average 4.2% (95% range 1.1 to 7.3%), a new group is expected within −2.4 to 11.6%, a single person within −8.7 to 21.9%; this lies inside what was studied, with 3 arms (47 people) near it.",
    );
    const one = { ...madeUpSupport, nearArms: 1, nearPeople: 1, extrapolates: true };
    expect(
      projectionAnswer({ ...madeUpProjection, weeks: 1, support: one }, madeUpReady, 0.8),
    ).toBe(
      "Size after 1 week of this protocol, against no exercise: such studies average 4.2% (80% range 1.1 to 7.3%), a new group is expected within −2.4 to 11.6%, a single person within −8.7 to 21.9%; this is an extrapolation, with 1 arm (1 person) near it.",
    );
  });

  test("a refusal's sentence", () => {
    const refusal = { goal: "size", reason: "too far" } as Parameters<
      typeof projectionRefusalAnswer
    >[0];
    const [nearest, other] = madeUpSupport.nearest;
    expect(projectionRefusalAnswer(refusal)).toBe("Nothing is projected for size: too far.");
    expect(projectionRefusalAnswer({ ...refusal, nearest: nearest! })).toBe(
      'Nothing is projected for size: too far. The nearest is "4 x 30 s at 60%" of Elm 2011, 0.7 steps away.',
    );
    expect(projectionRefusalAnswer({ ...refusal, nearest: other! })).toBe(
      'Nothing is projected for size: too far. The nearest is arm "Oak 2014 short holds" of Oak 2014, 1.4 steps away.',
    );
  });

  test("its ranges", () => {
    expect(told(projectionTable(madeUpProjection, madeUpReady))).toEqual([
      "What is projected: size after 12 weeks, against no exercise [projection]",
      "Range | What it is a range of | >Middle (%) | >95% range (%) | >Chance of a gain",
      "The average over such studies | the mean gain, were groups like these trained this way many times over | 4.2 | 1.1 to 7.3 | 98%",
      "A new group | the mean gain of one further group | 4.5 | −2.4 to 11.6 | 86%",
      "A single person | what one person of such a group would measure, test error included | 4.8 | −8.7 to 21.9 | 74%",
      "* Percent of the score before training (trained arm over its control).",
      "* The gain is over people who do not train, so what these gain is taken off already.",
      "* A single person: people's own response to training is taken to spread by 4.1% (one standard deviation; 2.2% to 6.4%), from the file's trained and control arms (6 comparisons).",
      "* One measurement errs by 2.7% (one standard deviation; test–retest of Ash 2001); a change holds two.",
      "* The joint is not said.",
      "* About groups and people like those studied; a forecast for nobody.",
      "range,log_middle,log_low,log_high,percent_middle,percent_low,percent_high,probability",
      "The average over such studies,0.04114194333117518,0.010939940038334366,0.07045846364856141,4.21,1.11,7.31,0.981",
      "A new group,0.04401688541677432,-0.024292692569044566,0.10975086395911919,4.51,-2.39,11.61,0.862",
      "A single person,0.04688358589885042,-0.09101939838716858,0.19803085049913444,4.81,-8.69,21.91,0.743",
    ]);
    const { measurement: _measurement, ...without } = madeUpReady;
    expect(
      told(
        projectionTable(
          madeUpProjection,
          {
            ...without,
            individual: { ...madeUpReady.individual, comparisons: 0, source: "the prior alone" },
          },
          { confidence: 0.9, smallestWorthwhilePercent: 3.5, id: "other" },
        ),
      ),
    ).toEqual([
      "What is projected: size after 12 weeks, against no exercise [other]",
      "Range | What it is a range of | >Middle (%) | >90% range (%) | >Chance of a gain | >Chance of more than 3.5%",
      "The average over such studies | the mean gain, were groups like these trained this way many times over | 4.2 | 1.1 to 7.3 | 98% | 71%",
      "A new group | the mean gain of one further group | 4.5 | −2.4 to 11.6 | 86% | 59%",
      "A single person | what one person of such a group would measure, test error included | 4.8 | −8.7 to 21.9 | 74% | 47%",
      "* Percent of the score before training (trained arm over its control).",
      "* The gain is over people who do not train, so what these gain is taken off already.",
      "* A single person: people's own response to training is taken to spread by 4.1% (one standard deviation; 2.2% to 6.4%), from the prior alone.",
      "* No error of measurement is known for this goal, so a single person's range is too narrow.",
      "* The joint is not said.",
      "* About groups and people like those studied; a forecast for nobody.",
      "range,log_middle,log_low,log_high,percent_middle,percent_low,percent_high,probability",
      "The average over such studies,0.04114194333117518,0.010939940038334366,0.07045846364856141,4.21,1.11,7.31,0.981",
      "A new group,0.04401688541677432,-0.024292692569044566,0.10975086395911919,4.51,-2.39,11.61,0.862",
      "A single person,0.04688358589885042,-0.09101939838716858,0.19803085049913444,4.81,-8.69,21.91,0.743",
    ]);
    expect(
      personSentences({ individual: { ...madeUpReady.individual, comparisons: 1 } })[0],
    ).toContain("(1 comparison)");
  });

  test("its course", () => {
    expect(told(projectionCourseTable(madeUpProjection, madeUpReady))).toEqual([
      "The course over weeks: middle and 95% range [projection-course]",
      ">Weeks | >The average (%) | >A new group (%) | >A single person (%) | Studied",
      "3 | 1.4 (0.3 to 2.5) | 1.7 (−1.6 to 3.8) | 1.9 (−5.2 to 9.1) | earlier than any test",
      "8 | 3.2 (0.7 to 5.4) | 3.5 (−2.1 to 8.8) | 3.9 (−7.9 to 17.5) | yes",
      "18 | 5.1 (1.2 to 9.4) | 5.6 (−3.3 to 14.7) | 5.9 (−9.8 to 25.2) | later",
      "* Tests stand between 5 and 16 weeks; outside that span the shape of the curve alone speaks.",
      "weeks,average middle,average low,average high,new_group middle,new_group low,new_group high,person middle,person low,person high,studied",
      "3,1.41,0.31,2.51,1.71,-1.59,3.8099999999999996,1.91,-5.19,9.11,earlier than any test",
      "8,3.21,0.71,5.41,3.51,-2.0900000000000003,8.81,3.9099999999999997,-7.890000000000001,17.51,yes",
      "18,5.109999999999999,1.21,9.41,5.609999999999999,-3.29,14.709999999999999,5.91,-9.790000000000001,25.21,later",
    ]);
    const flat = projectionCourseTable(
      madeUpProjection,
      { ...madeUpReady, courseIsIdentified: false },
      { confidence: 0.5, id: "other" },
    );
    expect([flat.id, flat.title, ...flat.notes]).toEqual([
      "other-course",
      "The course over weeks: middle and 50% range",
      "Tests stand between 5 and 16 weeks; outside that span the shape of the curve alone speaks.",
      "All tests stand at one week.",
    ]);
  });

  test("a chance of a gain beside that of people who do not train", () => {
    const within = { ...madeUpReady, contrast: "change-within-arm" as const };
    const chances = { average: 0.81, newGroup: 0.66, person: 0.53 };
    const table = projectionTable(madeUpProjection, within, {
      untrained: {
        ...{ arms: 7, studies: 6, chances },
        ...{ mean: 0.021, standardError: 0.008, groupDeviation: 0.013 },
      },
    });
    expect(told(table).slice(1, 7)).toEqual([
      "Range | What it is a range of | >Middle (%) | >95% range (%) | >Chance of a gain | >Without training",
      "The average over such studies | the mean gain, were groups like these trained this way many times over | 4.2 | 1.1 to 7.3 | 98% | 81%",
      "A new group | the mean gain of one further group | 4.5 | −2.4 to 11.6 | 86% | 66%",
      "A single person | what one person of such a group would measure, test error included | 4.8 | −8.7 to 21.9 | 74% | 53%",
      "* Percent of the score before training (trained arm over its control).",
      "* Without training: by 7 arms of 6 studies that did not train.",
    ]);
    const none = projectionTable(madeUpProjection, within);
    expect(none.notes[1]).toMatch(
      /^No arm of the file goes without training, .* every second person/,
    );
    expect(none.columns.map(({ key }) => key)).not.toContain("without");
  });

  test("its support", () => {
    expect(told(nearestTable(madeUpSupport.nearest))).toEqual([
      "The nearest arms of the file [nearest]",
      "Study and arm | Prescription | >People | >Distance (steps) | >Mean gain seen (%) | Citation | Lines",
      "Elm 2011: long holds | 4 x 30 s at 60% | 19 | 0.7 | 8.3 | Elm A (2011) J Made Up, doi 10.1/elm | 12, 15",
      "Oak 2014 short holds | not coded fully enough to write | 28 | 1.4 | −4.9 | Oak B (2014) | 31",
      "* One step is 20 points of intensity, a doubling of hold or of tension time, one session a week, four weeks, short to middle or middle to long, or another joint (common sense, no source); what one side does not say counts half a step, and three where it is intensity, hold or tension time.",
      "own_study,arm,written,people,exact_distance,log_gain,citation,lines",
      'Elm 2011,long holds,4 x 30 s at 60%,19,0.72,0.07973496801885352,"Elm A (2011) J Made Up, doi 10.1/elm","12, 15"',
      "Oak 2014,Oak 2014 short holds,not coded fully enough to write,28,1.44,-0.05024121643674679,Oak B (2014),31",
    ]);
    // The middle is 4.2%, so 4.9 is further from it than 3.7.
    const moves =
      "Halving or doubling the starting assumptions about what a dose changes moves the middle by at most 0.7 points (halved 3.7%, doubled 4.9%).";
    const parts =
      "Moved by intensity and tension time in a session; hold length, sessions a week, muscle length and build-up of force played no part: made up; and why.";
    expect(supportSentences(madeUpProjection)).toEqual([
      "Inside what was studied on every axis.",
      "3 arms of 2 studies with 47 people lie within two steps of this protocol.",
      parts,
      moves,
    ]);
    const far = { ...madeUpSupport, extrapolates: true, reasons: ["longer", "harder"] };
    expect(supportSentences({ ...madeUpProjection, support: far })[0]).toBe(
      "EXTRAPOLATION: longer; harder.",
    );
    const whole = { moved: ["intensity"], still: [], stillWhy: "", ofProtocol: true };
    expect(supportSentences({ ...madeUpProjection, parts: whole })[2]).toBe("Moved by intensity.");
    const none = { ...madeUpProjection.parts, moved: [], ofProtocol: false };
    expect(supportSentences({ ...madeUpProjection, parts: none })).toEqual([moves]);
  });

  test("what it rests on", () => {
    const basis = {
      ...madeUpReady,
      design: {
        predictors: [
          {
            label: "effort",
            unit: "% of MVC",
            studied: { low: 21.04, high: 97 },
            evidence: "within studies",
            definition: "its logarithm",
          },
          {
            label: "sets",
            unit: "",
            studied: { low: 2, high: 6.123 },
            evidence: "between studies",
            definition: "as it stands",
          },
          {
            label: "length",
            unit: "",
            studied: ["short", "long"],
            evidence: "none",
            definition: "long against short",
          },
        ],
        dropped: [{ label: "rest", reason: "coded too rarely" }],
      },
      priorWords: [
        { of: "slope", prior: "normal" },
        { of: "spread", prior: "half-normal" },
      ],
      check: { p: 0.314, misses: false, terms: [] },
      leftOut: { trials: [1, 2, 3, 4, 5], inside: 4, expected: 4.75, usual: { low: 4, high: 5 } },
    } as unknown as Parameters<typeof predictorsTable>[0];
    expect(told(predictorsTable(basis))).toEqual([
      "What the projection moves with, and what it does not [predictors]",
      "Predictor | Studied | Known from | Enters as",
      "effort | 21 to 97% of MVC | within studies | its logarithm",
      "sets | 2 to 6.12 | between studies | as it stands",
      "length | short, long | none | long against short",
      "rest | left out |  | coded too rarely",
      "* The answer does not move with a predictor that was left out, whatever a protocol says.",
      "* The joint is no predictor: arms of every joint enter, and another joint counts as a step of distance.",
    ]);
    const none = { ...basis, design: { ...basis.design, dropped: [] } };
    expect(predictorsTable(none, "other").notes).toHaveLength(1);
    expect(told(priorsTable(basis))).toEqual([
      "Priors, as used [priors]",
      "Of | Prior",
      "slope | normal",
      "spread | half-normal",
      "* On the log scale, where 0.1 is about 10%.",
    ]);
    expect(projectionModelSentence(basis)).toBe(
      "Bayesian multilevel regression on the log ratio for size (trained arm over its control): 34 effects of 9 studies with 211 people, integrated by quadrature, so that the same file gives the same answer. Left out in turn, 4 of 5 trials fell inside their range; 4.8 expected. Trials made up by the model bend as those of the file do (p 0.31).",
    );
  });
});
