import { Fragment } from "preact";
import { gradeWords } from "../../../tables/hold-table.js";
import { shownDuration } from "../../../tables/shown-duration.js";
import { rangeMiddle } from "../../../tables/range-cells.js";
import { Kept } from "../kept.js";
import { AxisMarks } from "../../parts/axis-marks.js";
import { rangeClasses, tickText, type Ranges } from "./range-words.js";
import { timelineOf } from "./session-picture.js";
import type { Compared, ComparedProtocol } from "./use-compared.js";

const width = 1000;
const stripHeight = 60;

/** One session to scale: time along, intensity up, a block for each hold. */
const Strip = ({
  protocol: { letter, session, last },
  secondsAcross,
}: Readonly<{ protocol: ComparedProtocol; secondsAcross: number }>) => {
  const along = (seconds: number): number => (seconds / secondsAcross) * width;
  const assessment = session.answer?.data.assessment;
  const runsOut = assessment?.failsAt !== undefined && assessment.grade !== null;
  return (
    <>
      <span class="letter">{letter}</span>
      <svg
        class="strip"
        viewBox={`0 0 ${width} ${stripHeight}`}
        preserveAspectRatio="none"
        role="img"
        aria-label={`Session ${letter} to scale: ${session.answer?.headline ?? "not yet judged"}`}
      >
        {timelineOf(session.answer).map(({ kind, startSeconds, endSeconds, intensityPercent }) =>
          kind === "hold" ? (
            <rect
              key={startSeconds}
              class="hold-block"
              x={along(startSeconds)}
              width={Math.max(2, along(endSeconds - startSeconds))}
              y={stripHeight - (Math.min(100, intensityPercent) / 100) * stripHeight}
              height={(Math.min(100, intensityPercent) / 100) * stripHeight}
            />
          ) : null,
        )}
        <line class="zero" x1={0} x2={width} y1={stripHeight} y2={stripHeight} />
      </svg>
      <span class={runsOut ? "verdict runs-out-word" : "verdict"}>
        {assessment === undefined || assessment === null
          ? last === undefined
            ? "cannot be read"
            : "not judged"
          : gradeWords(assessment)}
      </span>
    </>
  );
};

/** The three ranges of one protocol, nested: outline one person, tint a new group, solid the average. */
const NestedRanges = ({
  ranges,
  scale,
}: Readonly<{ ranges: Ranges; scale: Compared["scale"] }>) => {
  const at = (percent: number): number => scale.at(percent) * width;
  const order = ["person", "newGroup", "average"] as const;
  const inset = { person: 2, newGroup: 9, average: 17 } as const;
  const middle = at(ranges.average.percent.estimate);
  return (
    <svg class="nested" viewBox={`0 0 ${width} 50`} preserveAspectRatio="none" aria-hidden="true">
      {order.map((name) => {
        const { low, high } = ranges[name].percent;
        return (
          <rect
            key={name}
            class={`nested-${rangeClasses[name]}`}
            x={at(low)}
            width={Math.max(2, at(high) - at(low))}
            y={inset[name]}
            height={50 - 2 * inset[name]}
          />
        );
      })}
      <line class="nested-middle" x1={middle} x2={middle} y1={17} y2={33} />
      <line class="zero" x1={at(0)} x2={at(0)} y1={0} y2={50} />
    </svg>
  );
};

const isDrawn = ({ session }: ComparedProtocol): boolean => timelineOf(session.answer).length > 0;

/** Two to six sessions on one clock and, below, what to expect of each on one axis. */
export const ComparedPicture = ({ of }: Readonly<{ of: Compared }>) => {
  const { protocols, projectedAs, scale, secondsAcross } = of;
  const drawn = projectedAs.flatMap((own) => {
    const ranges = own[0]?.projected?.data.answer?.ranges;
    return ranges === undefined
      ? []
      : [{ name: own.map(({ letter }) => letter).join(" "), ranges }];
  });
  return (
    <Kept
      of={[
        scale.low,
        scale.high,
        secondsAcross,
        ...protocols.flatMap((p) => [p.session.answer, p.projected, p.last === undefined]),
      ]}
      draw={() => (
        <div class="compared-picture">
          <div class="on-one-clock">
            {protocols.map((protocol) => (
              <Strip key={protocol.letter} protocol={protocol} secondsAcross={secondsAcross} />
            ))}
            {protocols.some(isDrawn) ? (
              <span class="clock">on one clock: {shownDuration(secondsAcross)}</span>
            ) : null}
          </div>
          {protocols
            .filter((one) => one.session.answer !== undefined && !isDrawn(one))
            .map(({ letter, session }) => (
              <p key={letter} class="refusal">
                Not drawn: {session.answer!.headline}
              </p>
            ))}
          {drawn.length === 0 ? null : (
            <div class="on-one-axis">
              {drawn.map(({ name, ranges }) => (
                <Fragment key={name}>
                  <span class="letter">{name}</span>
                  <NestedRanges ranges={ranges} scale={scale} />
                  <span class="verdict">average {rangeMiddle(ranges.average)}%</span>
                </Fragment>
              ))}
              <AxisMarks
                marks={scale.ticks.map((tick) => ({
                  at: scale.at(tick),
                  text: tick === 0 ? "no change" : tickText(tick),
                  first: tick === 0,
                }))}
              />
              <span class="clock">
                solid: average of such trials · tinted: a new group · outline: one person
              </span>
            </div>
          )}
        </div>
      )}
    />
  );
};
