import { rangeWords } from "../../../tables/projection-table.js";
import type { LinearScale } from "./linear-scale.js";
import { AxisMarks } from "../../parts/axis-marks.js";
import { rangeClasses, rangeText, tickText, type Ranges } from "./range-words.js";

const width = 1000;

/** The three ranges of one protocol: bars on a shared scale, with their numbers beside them. */
export const RangesBlock = ({
  ranges,
  scale,
}: Readonly<{ ranges: Ranges; scale: LinearScale }>) => {
  const at = (value: number): number => scale.at(value) * width;
  return (
    <div class="ranges">
      <dl>
        {rangeWords.map(({ key, name, meaning }) => {
          const { percent } = ranges[key];
          return (
            <div key={key} class={`range ${rangeClasses[key]}`}>
              <dt>
                {name} <span class="meaning">{meaning}</span>
              </dt>
              <dd class="range-numbers">{rangeText(ranges[key])}</dd>
              <dd class="range-bar" aria-hidden="true">
                <svg viewBox={`0 0 ${width} 20`} preserveAspectRatio="none">
                  <line class="zero" x1={at(0)} x2={at(0)} y1={0} y2={20} />
                  <rect
                    class="range-extent"
                    x={at(percent.low)}
                    width={Math.max(2, at(percent.high) - at(percent.low))}
                    y={5}
                    height={10}
                  />
                  <line
                    class="range-middle"
                    x1={at(percent.estimate)}
                    x2={at(percent.estimate)}
                    y1={1}
                    y2={19}
                  />
                </svg>
              </dd>
            </div>
          );
        })}
      </dl>
      <AxisMarks
        marks={scale.ticks.map((tick) => ({
          at: scale.at(tick),
          text: tickText(tick),
          first: tick === 0,
        }))}
      />
    </div>
  );
};
