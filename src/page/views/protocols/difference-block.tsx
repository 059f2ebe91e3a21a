import type { CompareData } from "../../../answers/compare.js";
import { linesNamed } from "../../../answers/named-lines.js";
import { besideCall, isSameProtocol, isUntold, restsOn } from "../../../tables/comparison-table.js";
import { probabilityCell } from "../../../tables/range-cells.js";
import { useAppState } from "../../app.js";
import { rangeText } from "./range-words.js";

type Comparison = NonNullable<CompareData["answer"]>;
type Difference = Comparison["differences"][number];

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

const logText = (estimate: number, interval: Readonly<{ low: number; high: number }>): string =>
  rangeText({ estimate, ...interval });

/** Trials that compared two such arms, before anything that rests on the model. */
const Trials = ({
  difference,
  names,
}: Readonly<{ difference: Difference; names: readonly [string, string] }>) => {
  const { headToHead: direct } = difference;
  const files = useAppState((state) => state.check?.files) ?? [];
  if (direct.trials.length === 0)
    return (
      <p>
        <strong>What follows rests on {restsOn(difference)}</strong>; it comes from trials that
        differ in other things too.
      </p>
    );
  return (
    <>
      <p>
        <strong>
          {direct.trials.length === 1
            ? "One trial compares"
            : `${direct.trials.length} trials compare`}{" "}
          two such arms.
        </strong>{" "}
        {direct.pooled === undefined
          ? ""
          : `${names[0]} minus ${names[1]}: ${logText(direct.pooled.estimate, direct.pooled.interval)}.`}{" "}
        {direct.pooled === undefined ? null : <span class="quiet">By {direct.pooled.method}.</span>}
      </p>
      <ul class="trials">
        {direct.trials.map((trial) => (
          <li key={`${trial.study} ${trial.firstArm}`}>
            <strong>{trial.study}</strong>: “{trial.firstArm}” minus “{trial.secondArm}”{" "}
            {logText(trial.estimate, trial.interval)}.{" "}
            <span class="quiet">
              {trial.citation}
              {trial.doi === undefined ? "" : `, doi ${trial.doi}`} (
              {linesNamed(files, `lines ${trial.lines.join(", ")}`)})
            </span>
          </li>
        ))}
      </ul>
    </>
  );
};

const Chances = ({
  difference,
  names,
  worthwhile,
}: Readonly<{
  difference: Difference;
  names: readonly [string, string];
  worthwhile: number;
}>) => {
  const { probabilityFirstBetter: better } = difference;
  const rows: readonly (readonly [string, number])[] =
    worthwhile > 0
      ? [
          [`${names[0]} gives more by over ${worthwhile}%`, difference.probabilityFirstWorthwhile],
          [`${names[1]} gives more by over ${worthwhile}%`, difference.probabilitySecondWorthwhile],
          [`They differ by less than ${worthwhile}%`, difference.probabilityWithin],
        ]
      : [
          [`${names[0]} gives more`, better],
          [`${names[1]} gives more`, 1 - better],
        ];
  return (
    <table class="chances">
      <caption>How probable, by the model</caption>
      <tbody>
        {rows.map(([what, probability]) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td class="number">{probabilityCell(probability)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
};

/** Two protocols' difference: direct trials first, then the model's, called by one rule. */
export const DifferenceBlock = ({
  difference,
  comparison,
}: Readonly<{ difference: Difference; comparison: Comparison }>) => {
  const { smallestWorthwhilePercent: worthwhile } = comparison;
  const name = (place: number): string => comparison.protocols[place]?.name ?? "";
  const names = [name(difference.first), name(difference.second)] as const;
  const { verdict } = difference;
  const tie = verdict.call === "tie";
  const same = isSameProtocol(comparison, difference);
  const notTold = isUntold(comparison, difference);
  return (
    <section class={tie ? "difference tie" : "difference"} aria-label={names.join(" and ")}>
      <h3>
        {names[0]} and {names[1]}: {verdict.short}
      </h3>
      {/* Of two alone the headline above says it already. */}
      {same ? (
        <p>They are the same protocol.</p>
      ) : comparison.differences.length === 1 ? null : (
        <p>{notTold ? "Cannot be told from this file." : sentence(verdict.words)}</p>
      )}
      {same ? null : <Trials difference={difference} names={names} />}
      <dl class="quantities wide">
        <div>
          <dt>
            {names[0]} minus {names[1]}, on average
          </dt>
          <dd>{notTold ? "cannot be told" : rangeText(difference.average)}</dd>
        </div>
        <div>
          <dt>The same in a further study</dt>
          <dd>{notTold ? "cannot be told" : rangeText(difference.newTrial)}</dd>
        </div>
      </dl>
      {notTold ? (
        <p class="extrapolates">
          <strong>Nothing in which the two differ could be told from this file</strong>, so the
          model gives both the same gain by construction. That is no evidence that they are equal;
          what was left out, and why, stands under what the projections rest on.
        </p>
      ) : null}
      {besideCall(comparison, difference).map((one) => (
        <p key={one}>{one}</p>
      ))}
      {notTold || same ? null : (
        <Chances difference={difference} names={names} worthwhile={worthwhile} />
      )}
      <p class="quiet">A difference of 3% means end scores 3% apart.</p>
    </section>
  );
};
