import type { Answer } from "../../../answers/answer.js";
import type { HoldData } from "../../../answers/hold.js";
import { timeTicks } from "../../../figures/time-ticks.js";
import type { TimelinePart } from "../../../protocol/session-timeline.js";

type Assessment = NonNullable<HoldData["assessment"]>;
type CapacityPoint = Assessment["capacity"][number];

/** The stretches of the session that an answer draws; none where it draws none. */
export const timelineOf = (
  answer: Pick<Answer, "figures"> | undefined,
): readonly TimelinePart[] => {
  const strip = answer?.figures.find(({ name }) => name === "sessions");
  return strip?.name === "sessions"
    ? ((strip.data.sessions[0]?.timeline ?? []) as readonly TimelinePart[])
    : [];
};

const width = 1000;
const height = 200;
const levels = [0, 50, 100];

const up = (percent: number): string =>
  (height - (Math.min(100, Math.max(0, percent)) / 100) * height).toFixed(1);

/**
 * A session to scale, holds as blocks, with the capacity that remains by the model as a line in its
 * band; every strip of a page on the same time scale.
 */
export const SessionPicture = ({
  timeline,
  assessment,
  secondsAcross,
  label,
}: Readonly<{
  timeline: readonly TimelinePart[];
  assessment: Assessment;
  secondsAcross: number;
  label: string;
}>) => {
  const along = (seconds: number): string => ((seconds / secondsAcross) * width).toFixed(1);
  const { capacity } = assessment;
  const path = (points: readonly CapacityPoint[], pick: (point: CapacityPoint) => number): string =>
    points.map((point) => `${along(point.seconds)} ${up(pick(point))}`).join("L");
  const band = `M${path(capacity, ({ high }) => high)}L${path([...capacity].reverse(), ({ low }) => low)}Z`;
  const failures = [assessment.failsAtLow, assessment.failsAt, assessment.failsAtHigh];
  return (
    <div class="session-picture">
      <div class="level-marks" aria-hidden="true">
        {levels.map((level) => (
          <span key={level} style={{ bottom: `${level}%` }}>
            {level}%
          </span>
        ))}
      </div>
      <svg
        viewBox={`0 0 ${width} ${height}`}
        preserveAspectRatio="none"
        role="img"
        aria-label={label}
      >
        {levels.map((level) => (
          <line key={level} class="grid" x1={0} x2={width} y1={up(level)} y2={up(level)} />
        ))}
        {timeline.map(({ kind, startSeconds, endSeconds, intensityPercent }) =>
          kind === "hold" ? (
            <rect
              key={startSeconds}
              class="hold-block"
              x={along(startSeconds)}
              width={Math.max(1.2, Number(along(endSeconds - startSeconds)))}
              y={up(intensityPercent)}
              height={height - Number(up(intensityPercent))}
            />
          ) : null,
        )}
        <path class="capacity-band" d={band} />
        <path class="capacity-line" d={`M${path(capacity, ({ central }) => central)}`} />
        {failures.map((failure, place) =>
          failure === undefined ? null : (
            <line
              key={place}
              class={place === 1 ? "runs-out central" : "runs-out"}
              x1={along(failure.seconds)}
              x2={along(failure.seconds)}
              y1={0}
              y2={height}
            />
          ),
        )}
      </svg>
      <div class="time-marks" aria-hidden="true">
        {timeTicks(secondsAcross, 5).map(({ seconds, label: text }) => (
          <span key={seconds} style={{ left: `${(100 * seconds) / secondsAcross}%` }}>
            {text}
          </span>
        ))}
      </div>
    </div>
  );
};
