/** What would stand where nothing is yet: said in words, and drawn as its empty form, without a number. */
import type { ComponentChildren, VNode } from "preact";

const outline = (x: number, y: number, width: number, height: number) => (
  <rect key={`${x} ${y}`} x={x} y={y} width={width} height={height} />
);

/** Empty forms, each as wide as 600 and as high as 110. */
const forms = {
  /** Tests over time, the error of the test about the first one, and the line that trials would give. */
  tests: (
    <>
      {outline(20, 62, 560, 26)}
      <path class="dashed" d="M20 75C160 68 340 44 580 22" />
      {[20, 130, 250, 380, 500, 572].map((x, at) => (
        <circle key={x} cx={x} cy={[75, 78, 64, 55, 38, 30][at]} r={5} />
      ))}
    </>
  ),
  /** Ranges before and now, one below the other. */
  ranges: (
    <>
      <line x1={120} x2={120} y1={4} y2={106} />
      {[10, 62].flatMap((y, at) => [
        <g key={y} class="dashed">
          {outline(150 - at * 60, y, 250, 14)}
        </g>,
        outline(180 - at * 40, y + 20, 170, 14),
      ])}
    </>
  ),
  /** Studies down, five domains along. */
  domains: (
    <>
      {[0, 1, 2].flatMap((row) => [
        <line key={`of ${row}`} x1={20} x2={150} y1={24 + row * 34} y2={24 + row * 34} />,
        ...[0, 1, 2, 3, 4].map((domain) => outline(180 + domain * 80, 10 + row * 34, 68, 26)),
      ])}
    </>
  ),
  /** An effect of each arm, and the average with them. */
  effects: (
    <>
      <line x1={60} x2={60} y1={4} y2={106} />
      {outline(120, 14, 220, 12)}
      {outline(90, 46, 300, 12)}
      <g class="dashed">{outline(150, 78, 150, 18)}</g>
    </>
  ),
} as const satisfies Readonly<Record<string, VNode>>;

/** An empty state: one sentence, the empty form, and what its parts would be. */
export const NotYet = ({
  form,
  parts,
  children,
}: Readonly<{ form: keyof typeof forms; parts: string; children: ComponentChildren }>) => (
  <section class="not-yet" aria-label="What would be here">
    <p>{children}</p>
    <svg viewBox="0 0 600 110" aria-hidden="true">
      {forms[form]}
    </svg>
    <p class="quiet">{parts}</p>
  </section>
);
