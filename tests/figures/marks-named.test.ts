/**
 * Every mark of every figure is named inside the drawing, at every size: by a key, a label or a sentence under it. Kind of
 * evidence: the drawn text itself, against the words that a mark of that style is told in.
 */
import { expect, test } from "vitest";
import { figuresAt, type NamedFigure } from "../../src/figures/figure-list.js";
import { figureSizes } from "../../src/figures/frame.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { askedKinds, figureFiles, figuresOfKind } from "./asked-figures.js";
import { curveKinds, curvesAsked } from "./curve-kinds.js";

/** Grounds, grids, axes, the line of no change at its labelled 0, and the keys themselves. */
const plain = /^(grid|band|zero|ground)$/;

/** What must be read of marks of a style, and of a shape where it has one of its own. */
const told: Readonly<Record<string, RegExp>> = {
  "triangle-up": /triangle/i,
  "triangle-down": /triangle/i,
  zone: /grey: under|\(grey\)|no difference that counts|claim|was compared there|no comparison/i,
  "zone-edge": /grey: under|no difference that counts|claim/i,
  range: /bars?\b|ranges?\b|interval|ways|expected|correlation/i,
  "range-tick": /cut out|gaps?\b|middle|between studies/i,
  "hollow-tick": /left out|between studies|hollow/i,
  "computed-mark": /each line|ways|expected|middle/i,
  "computed-range": /a new group/i,
  "computed-tick": /middle|\d% \(/i,
  "computed-tint": /tinted|bars|further study/i,
  "computed-line": /middle/i,
  "computed-broken": /broken/i,
  "arm-line": /lines join|joined/i,
  "arm-point": /points?\b|own spread|ringed|filled/i,
  "curve-line": /average|thick|hair lines|fitted|course/i,
  "pooled-band": /interval|\d%|the chance/i,
  "pair-interval": /interval/i,
  "pair-line": /intervals?\b|minus|joins?\b/i,
  "pair-point": /lower dose|points|spread|hollow|filled/i,
  "open-point": /open|borrowed/i,
  "trained-ring": /ringed/i,
  "reach-line": /half|thick/i,
  "reach-tick": /half/i,
  "runs-on": /at the right/i,
  "cell-empty": /none|nobody|empty/i,
  "cell-studied": /studies/i,
  rest: /hold|rest|session|set/i,
  "rest-between-sets": /sets/i,
  hold: /hold|intensity|session|set/i,
  "hold-quiet": /blocks/i,
  "capacity-band": /band|tire/i,
  "capacity-edge": /band|tire/i,
  "capacity-line": /line|left/i,
  "runs-out": /red|no longer|runs out/i,
  "candidate-point": /dots?|numbered|found|as shown/i,
  "frontier-line": /line|takes less/i,
  "prediction-edge": /broken/i,
  "prediction-band": /further study/i,
  "prediction-bracket": /thin/i,
  "pooled-bar": /average|block/i,
  "pooled-tick": /average/i,
  "pooled-line": /average/i,
  "effect-outer": /interval/i,
  "effect-middle": /interval/i,
  "effect-tick": /estimate/i,
  studied: /tested|tests stand/i,
  week: /changed|change/i,
  graded: /hold|week|fresh/i,
  track: /100%/i,
  "moved-line": /line joins|before/i,
  "moved-point": /before/i,
};

type Mark = Readonly<{ type: string; style?: string; shape?: string }>;

const marksOf = (node: unknown): readonly Mark[] => {
  if (Array.isArray(node)) return node.flatMap(marksOf);
  if (typeof node !== "object" || node === null) return [];
  const { mark, data } = node as { mark?: Mark; data?: { values?: readonly unknown[] } };
  const own = mark !== undefined && (data?.values?.length ?? 0) > 0 ? [mark] : [];
  return [...own, ...Object.values(node).flatMap(marksOf)];
};

const curves = new Set<string>(curveKinds);
const cases: readonly (readonly [string, () => Promise<readonly NamedFigure[]>])[] = [
  ...askedKinds.flatMap((kind) =>
    figureFiles.map((file) => [`${kind} of ${file}`, () => figuresOfKind(kind, file)] as const),
  ),
  ...curvesAsked.map(
    ([name, figures]) =>
      [name, async () => (await figures()).filter((figure) => curves.has(figure.name))] as const,
  ),
];

test.each(cases)("%s: every mark is named in the drawing at every size", async (_name, figures) => {
  const missing = new Set<string>();
  for (const size of figureSizes)
    for (const figure of (await figures()).flatMap(figuresAt(size))) {
      const words = (await drawSvg(figure)).replaceAll(/(<[^>]*>|\s)+/g, " ");
      // What is darker on paper is lighter in the dark: words of colours hold in both looks.
      if (/\b(?:dark|light)er\b/i.test(words)) missing.add(`${size}: "darker" or "lighter"`);
      for (const { type, style = "", shape = "" } of marksOf(figure.specification)) {
        if (type === "text" || plain.test(style)) continue;
        const named = told[shape] ?? told[style];
        if (named === undefined) missing.add(`${size}: no words are known of ${type} ${style}`);
        else if (!named.test(words)) missing.add(`${size}: ${type} ${style} ${shape}`.trim());
      }
    }
  expect([...missing]).toEqual([]);
});
