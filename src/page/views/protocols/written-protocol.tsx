import type { ReadProtocol } from "./read-protocol.js";
import { useComparedWritten } from "./use-protocol-texts.js";

/** Letters on a line, for browsers that do not measure a field by its content. */
const lettersOnLine = 44;

/** The protocol as a coach would write it; what cannot be read is marked where it stands. */
export const WrittenProtocol = ({
  id,
  label = "As you would write it",
  read,
  onText,
  takes = false,
}: Readonly<{
  id: string;
  label?: string;
  read: ReadProtocol;
  onText: (text: string) => void;
  /** Whether a protocol of the comparison can be taken over. */
  takes?: boolean;
}>) => {
  const written = useComparedWritten().filter(([, text]) => text !== read.text);
  const meant = read.kind === "unreadable" ? read.problem.meant : undefined;
  const problem = read.kind === "unreadable" ? read.problem : undefined;
  const problemId = `${id}-problem`;
  return (
    <div class="written">
      <label for={id}>{label}</label>
      {/* As many lines as it needs: what is cut off cannot be compared. */}
      <textarea
        id={id}
        rows={Math.ceil((read.text.length + 1) / lettersOnLine)}
        value={read.text}
        spellcheck={false}
        autocomplete="off"
        aria-invalid={problem !== undefined}
        {...(problem === undefined ? {} : { "aria-describedby": problemId })}
        onKeyDown={(event) => {
          if (event.key === "Enter") event.preventDefault();
        }}
        onInput={(event) => onText(event.currentTarget.value.replaceAll(/[\r\n]+/g, " "))}
      />
      {takes && written.length > 0 ? (
        <p class="row">
          {written.map(([letter, text]) => (
            <button key={letter} type="button" class="quiet-button" onClick={() => onText(text)}>
              Take {letter}: {text}
            </button>
          ))}
        </p>
      ) : null}
      <div id={problemId} role="status">
        {problem === undefined ? null : (
          <div class="problem">
            {problem.place === undefined ? null : (
              <p class="problem-place">
                {problem.place.before}
                <mark>{problem.place.at === "" ? "here" : problem.place.at}</mark>
                {problem.place.after}
              </p>
            )}
            <p>{problem.message}</p>
            {meant === undefined ? null : (
              <p>
                Did you mean:{" "}
                <button type="button" class="quiet-button" onClick={() => onText(meant)}>
                  {meant}
                </button>
              </p>
            )}
          </div>
        )}
        {read.kind === "sound" && read.taken.length > 0 ? (
          <p class="quiet">Read with what it does not say: {read.taken.join("; ")}.</p>
        ) : null}
      </div>
    </div>
  );
};
