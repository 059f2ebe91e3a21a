/** A small form about one person, and the cautions that apply to them first. It is kept nowhere but in the fields. */
import { useState } from "preact/hooks";
import { readAs } from "../../answers/option.js";
import { readProfile, type Profile } from "../../answers/profile.js";
import { cautionsFor, type CautionEntry, type StudiedAges } from "../../answers/session.js";
import { joints, type Prescription } from "../../protocol/prescription.js";
import { cautionOrigin } from "../../tables/cautions-block.js";
import { Choice } from "./choice.js";

const Entry = ({ entry }: Readonly<{ entry: CautionEntry }>) => (
  <li data-caution={entry.id} data-form={entry.form}>
    <strong>{entry.title}.</strong> {entry.text}
    {entry.because === undefined ? null : <em> Here: {entry.because}.</em>}{" "}
    <span class="source">{cautionOrigin(entry)}</span>
  </li>
);

/** A list of cautions, each with its source. */
export const CautionEntries = ({ entries }: Readonly<{ entries: readonly CautionEntry[] }>) => (
  <ul class="caution-list">
    {entries.map((entry) => (
      <Entry key={entry.id} entry={entry} />
    ))}
  </ul>
);

type Said = Readonly<{
  age: string;
  joint: string;
  surgery: string;
  weeks: string;
  pressure: string;
  pregnancy: string;
}>;
const nothing: Said = { age: "", joint: "", surgery: "", weeks: "", pressure: "", pregnancy: "" };

const surgeries = ["", "none", ...joints, "eye", "belly", "heart", "elsewhere"];
const pregnancies = ["", "not pregnant", "pregnant", "after birth"];
const notSaid = (word: string): string => (word === "" ? "not said" : word);

/** What the fields say; undefined where they say nothing, words where one cannot be read. */
const profileOf = (said: Said): Profile | string | undefined => {
  const { age, joint, surgery, weeks, pressure, pregnancy } = said;
  const given = {
    age,
    joint,
    surgery:
      surgery === "" || surgery === "none"
        ? surgery
        : `${surgery === "elsewhere" ? "" : surgery} surgery${weeks === "" ? "" : ` ${weeks} weeks ago`}`,
    "blood pressure": pressure,
    pregnancy,
  };
  if (Object.values(given).every((value) => value.trim() === "")) return undefined;
  try {
    return readAs("What is said of the person", () => readProfile(given)) as Profile;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
};

/**
 * The form, folded, and below it what applies first.
 *
 * @param ages of the open file; null where it says none, undefined where no file is asked about
 */
export const PersonCautions = ({
  prescriptions,
  ages,
}: Readonly<{ prescriptions: readonly Prescription[]; ages?: StudiedAges | null | undefined }>) => {
  const [said, setSaid] = useState(nothing);
  const put = (field: keyof Said) => (value: string) => setSaid({ ...said, [field]: value });
  const read = profileOf(said);
  const person =
    read === undefined || typeof read === "string"
      ? undefined
      : cautionsFor(prescriptions, { profile: read, ...(ages === undefined ? {} : { ages }) })
          .profile;
  const typed = (label: string, field: keyof Said, placeholder: string) => (
    <label class="wish">
      <span>{label}</span>
      <input
        type="text"
        inputMode={field === "pressure" ? "text" : "decimal"}
        autocomplete="off"
        spellcheck={false}
        placeholder={placeholder}
        value={said[field]}
        onInput={(event) => put(field)(event.currentTarget.value)}
      />
    </label>
  );
  const chosen = (label: string, field: keyof Said, words: readonly string[]) => (
    <Choice label={label} value={said[field]} words={words} shown={notSaid} onChange={put(field)} />
  );
  return (
    <>
      <details class="person">
        <summary>Put first what applies to one person</summary>
        <div class="wishes">
          {typed("Age, years", "age", "not said")}
          {chosen("Joint", "joint", ["", ...joints])}
          {chosen("Surgery", "surgery", surgeries)}
          {said.surgery === "" || said.surgery === "none"
            ? null
            : typed("Weeks since surgery", "weeks", "not said")}
          {typed("Blood pressure", "pressure", "usual, treated, 150/95")}
          {chosen("Pregnancy", "pregnancy", pregnancies)}
        </div>
        <p class="quiet">
          Kept nowhere: it is in no address, project, picture or file, and is gone when you leave
          this view. It clears nobody.
        </p>
      </details>
      <div role="status" class="person-first">
        {typeof read === "string" ? <p class="bad-number">{read}</p> : null}
        {person === undefined ? null : (
          <>
            {person.outsideAges === undefined ? null : (
              <p class="loud">
                <strong>{person.outsideAges}</strong>
              </p>
            )}
            {person.otherJoint === undefined ? null : <p>{person.otherJoint}</p>}
            <p>{person.said}</p>
            <CautionEntries entries={person.first} />
            {person.more.length === 0 ? null : (
              <details>
                <summary>What else it brings: {person.more.length}</summary>
                <CautionEntries entries={person.more} />
              </details>
            )}
          </>
        )}
      </div>
    </>
  );
};
