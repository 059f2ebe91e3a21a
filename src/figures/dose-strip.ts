import type { DoseCurve } from "../dose/dose-response.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";

/** What the strip under a dose curve needs. */
export type DoseStripInput = Readonly<{
  answer: DoseCurve;
  left: number;
  width: number;
  right: number;
  /** Place along the plot of a dose, in drawing units. */
  xOf: (dose: number) => number;
  heading: string;
  ticks: readonly Readonly<{ dose: number; text: string }>[];
}>;

const barRoom = 30;
const height = 74;
const barWidth = 5;

/** Arms at each dose: those of studies that compare doses, and the others on top of them. */
const armsByDose = ({ points }: DoseCurve) => {
  const dosesOf = new Map<string, Set<number>>();
  for (const { study, dose } of points) {
    dosesOf.set(study, (dosesOf.get(study) ?? new Set<number>()).add(dose));
  }
  const arms = new Map<number, { comparing: Set<string>; single: Set<string> }>();
  for (const { study, arm, dose } of points) {
    const place = arms.get(dose) ?? { comparing: new Set(), single: new Set() };
    (dosesOf.get(study)!.size > 1 ? place.comparing : place.single).add(arm);
    arms.set(dose, place);
  }
  return [...arms].map(([dose, { comparing, single }]) => ({
    dose,
    comparing: comparing.size,
    single: single.size,
  }));
};

/** The support along a dose axis as small bars, with the axis's marks, numbers and heading. */
export const doseStrip = (input: DoseStripInput): Panel => {
  const { answer, left, width, right, xOf, heading, ticks } = input;
  const draw = panelDrawing("support", plainFrame(left + width + right, height));
  const counts = armsByDose(answer);
  const most = Math.max(...counts.map(({ comparing, single }) => comparing + single));
  // By the square root, so that a single arm can be seen beside a crowd.
  const tall = (arms: number): number => Math.sqrt(arms / most) * (barRoom - 2);
  const bar = (dose: number, from: number, to: number) => ({
    x: left + xOf(dose) - barWidth / 2,
    x2: left + xOf(dose) + barWidth / 2,
    y: barRoom - tall(from),
    y2: barRoom - tall(to),
  });
  return draw.panel([
    draw.boxes(
      "arms that are compared",
      "hold",
      counts
        .filter(({ comparing }) => comparing > 0)
        .map(({ dose, comparing }) => bar(dose, 0, comparing)),
    ),
    draw.boxes(
      "arms on their own",
      "hold-quiet",
      counts
        .filter(({ single }) => single > 0)
        .map(({ dose, comparing, single }) => bar(dose, comparing, comparing + single)),
    ),
    draw.lines("axis", "zero", [{ x: left, x2: left + width, y: barRoom, y2: barRoom }]),
    draw.lines(
      "marks",
      "grid",
      ticks.map(({ dose }) => ({
        x: left + xOf(dose),
        x2: left + xOf(dose),
        y: barRoom,
        y2: barRoom + 5,
      })),
    ),
    draw.words(
      "doses",
      "text-small",
      ticks.map(({ dose, text }) => ({ x: left + xOf(dose), y: barRoom + 14, text })),
      { align: "center" },
    ),
    draw.words("heading", "text-heading", [{ x: left, y: barRoom + 34, text: heading }]),
    draw.words(
      "arms",
      "text-small",
      [
        {
          x: left + width,
          y: barRoom + 34,
          text: most === 1 ? "each bar: 1 arm" : `tallest bar: ${most} arms`,
        },
      ],
      { align: "right" },
    ),
  ]);
};
