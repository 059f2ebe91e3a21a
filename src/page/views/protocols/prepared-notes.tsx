import type { PreparedProjection } from "../../../projection/prepare-projection.js";

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

/** What every projection of this table rests on: trials, predictors in use and left out, priors, notes. */
export const PreparedNotes = ({ prepared }: Readonly<{ prepared: PreparedProjection }>) => {
  if (prepared.kind === "refused")
    return (
      <p class="refusal">
        {sentence(prepared.reason)} Another goal, or a table with more trials, may do better.
      </p>
    );
  const { design, priorWords, notes } = prepared;
  return (
    <details>
      <summary>What the projections rest on</summary>
      <p>
        {prepared.effects} effects of {prepared.studies} studies with {prepared.people} people:{" "}
        {prepared.contrastWords}, measured after {prepared.weeksStudied.low} to{" "}
        {prepared.weeksStudied.high} weeks.
      </p>
      <h3>Taken into account</h3>
      <ul>
        {design.predictors.map(({ name, label }) => (
          <li key={name}>{label}</li>
        ))}
      </ul>
      {design.dropped.length === 0 ? null : (
        <>
          <h3>Left out</h3>
          <ul>
            {design.dropped.map(({ name, reason }) => (
              <li key={name}>{sentence(reason)}</li>
            ))}
          </ul>
        </>
      )}
      <h3>Priors, on the log scale</h3>
      <ul>
        {priorWords.map(({ of, prior }) => (
          <li key={of}>
            {of}: {prior}
          </li>
        ))}
      </ul>
      {notes.length === 0 ? null : (
        <>
          <h3>Doubts</h3>
          <ul>
            {notes.map(({ message }) => (
              <li key={message}>{sentence(message)}</li>
            ))}
          </ul>
        </>
      )}
    </details>
  );
};
