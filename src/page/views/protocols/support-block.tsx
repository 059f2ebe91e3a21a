import type { NearestRow, Support } from "../../../projection/project-protocol.js";
import { supportLimits } from "../../../projection/support.js";
import { formatNumber, formatPercent } from "../../../tables/number-format.js";
import { percentFromLogRatio } from "../../../effects/percent-from-log-ratio.js";

const count = (number: number, one: string, many: string): string =>
  `${number} ${number === 1 ? one : many}`;

/** Rows of the table that lie nearest to a protocol, with their citations. */
export const NearestRows = ({ rows }: Readonly<{ rows: readonly NearestRow[] }>) => (
  <ol class="nearest">
    {rows.map((row) => (
      <li key={`${row.study} ${row.arm}`}>
        <strong>{row.study}</strong>, {row.arm}: {row.written ?? "protocol not fully coded"};{" "}
        {formatPercent(percentFromLogRatio(row.meanEffect))} in {row.participants} people,{" "}
        {formatNumber(row.distance, { digits: 1 })} steps away.{" "}
        <span class="quiet">
          {row.citation}
          {row.doi === undefined ? "" : `, doi ${row.doi}`} (line {row.lines.join(", ")})
        </span>
      </li>
    ))}
  </ol>
);

/** How much evidence lies near a protocol, and what part of the answer is data. */
export const SupportBlock = ({ support }: Readonly<{ support: Support }>) => {
  const share = Math.round(100 * support.shareFromData);
  return (
    <div class="support">
      <p>
        {support.nearArms === 0
          ? `No arm lies within ${supportLimits.near} steps of it.`
          : `${count(support.nearArms, "arm", "arms")} of ${count(support.nearStudies, "study", "studies")} with ${support.nearPeople} people ${support.nearArms === 1 ? "lies" : "lie"} within ${supportLimits.near} steps of it.`}{" "}
        Of the average, {share}% comes from the table and {100 - share}% from the prior.
      </p>
      {support.extrapolates ? (
        <div class="extrapolates">
          <strong>Extrapolation.</strong>
          <ul>
            {support.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </div>
      ) : null}
      <details>
        <summary>The nearest rows, with their sources</summary>
        <NearestRows rows={support.nearest} />
        <p class="quiet">
          A step: 20 points of effort, a doubling of hold or tension time, one session a week, four
          weeks, one muscle length, another joint.
        </p>
      </details>
    </div>
  );
};
