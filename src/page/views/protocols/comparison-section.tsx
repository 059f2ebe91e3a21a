import type { Prescription } from "../../../protocol/prescription.js";
import type { ComparedShown } from "./compared-shown.js";
import { DifferenceBlock } from "./difference-block.js";

const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;

/** Every pair of protocols, or why they are not compared. */
export const ComparisonSection = ({
  comparison,
  waiting,
}: Readonly<{ comparison: ComparedShown["comparison"]; waiting: boolean }>) => {
  if (comparison === undefined)
    return (
      <p class="quiet">
        {waiting
          ? "The comparison stands here as soon as the table has been learnt from."
          : "A comparison needs two protocols that can be projected."}
      </p>
    );
  if (comparison.kind === "unanswered")
    return <p class="refusal">{sentence(comparison.message)}</p>;
  if (comparison.kind === "refusal") return <p class="refusal">{sentence(comparison.reason)}</p>;
  const { equalised } = comparison;
  return (
    <>
      {equalised === undefined ? null : (
        <ul class="equalised">
          {equalised.protocols.map(({ written, value, valueBefore }, place) => (
            <li key={place}>
              {comparison.protocols[place]?.name}: {written}, {equalised.quantity}{" "}
              {Math.round(value)} {equalised.unit}
              {place === 0 || value === valueBefore
                ? ""
                : ` (as written ${Math.round(valueBefore)} ${equalised.unit})`}
            </li>
          ))}
        </ul>
      )}
      <div class="differences">
        {comparison.differences.map((difference) => (
          <DifferenceBlock
            key={`${difference.first} ${difference.second}`}
            difference={difference}
            protocols={comparison.protocols}
            worthwhile={comparison.smallestWorthwhilePercent}
          />
        ))}
      </div>
    </>
  );
};

/** A protocol with its letter. */
export type LetteredProtocol = Readonly<{ name: string; prescription: Prescription }>;
