/**
 * Which cautions go with a protocol, and in which form. They cannot be switched off: whatever is asked,
 * every caution that applies comes back, and its short wording only where the long one has already
 * stood in the same document.
 */
import type { Prescription } from "../protocol/prescription.js";
import { effortLabel } from "../protocol/derived-quantities.js";
import { cautionsWording, type Caution, type Sourced, type StopSigns } from "./cautions-wording.js";
import {
  broughtBy,
  firstCautions,
  otherJoint,
  outsideAges,
  profileWords,
  type Profile,
  type StudiedAges,
} from "./profile.js";

/** Marks in types alone what only this file makes, so that the block stays plain data. */
declare const made: unique symbol;

/**
 * What one document has already said in full. Begin a document with `nothingShown` and hand on what
 * `cautionsFor` returns; there is no other way to come by one, so that nothing can be claimed as shown
 * that was not.
 */
export type CautionsShown = Readonly<{ inFull: readonly string[]; [made]: true }>;

/** A document in which no caution has stood yet. */
export const nothingShown = { inFull: [] as readonly string[] } as CautionsShown;

/** One caution as it is to be shown. */
export type CautionEntry = Sourced &
  Readonly<{
    id: string;
    title: string;
    form: "full" | "short";
    /** The wording of that form. */
    text: string;
    /** What in this protocol makes the caution weigh more; absent when nothing does. */
    because?: string;
  }>;

export type CautionsBlock = Readonly<{
  title: string;
  /** `full` as soon as one entry is. */
  form: "full" | "short";
  entries: readonly CautionEntry[];
  stopSigns: CautionEntry & Readonly<{ signs: readonly string[] }>;
  /** What a person's profile puts before the entries; absent without one. */
  profile?: ProfileCautions;
  /** For the next block of the same document. */
  shown: CautionsShown;
}>;

/** Cautions that come first for one person, each in full. They clear nobody: what is not said is not known. */
export type ProfileCautions = Readonly<{
  /** The profile as it was understood, and what it does not do. */
  said: string;
  /** That the age lies outside what was studied; to be told loudly. */
  outsideAges?: string;
  /** That another joint is trained than the one named. */
  otherJoint?: string;
  /** Three to five; those of them that stand among the entries too are not said again. */
  first: readonly CautionEntry[];
  /** What else the profile brings. */
  more: readonly CautionEntry[];
}>;

export type CautionsContext = Readonly<{
  /** What this document has said in full so far. */
  shown?: CautionsShown;
  /** What is wished for; an entry that has not stood in full stands in full all the same. */
  form?: "full" | "short";
  /** What one person said of themselves: what applies to them comes first. */
  profile?: Profile;
  /** Ages of the open file; null where it says none, undefined without a file. */
  ages?: StudiedAges | null;
}>;
export const cautionsContextDefaults = {
  shown: nothingShown,
  form: "full",
} as const satisfies CautionsContext;

/** Why a caution weighs more for a protocol, by the caution's id. */
const reasons = (p: Prescription): ReadonlyMap<string, string> => {
  const found = new Map<string, string>();
  const label = effortLabel(p);
  if (label === "maximal" || label === "near-maximal")
    for (const id of ["blood-pressure", "breathing", "eye-pressure", "hernia"])
      found.set(id, `this protocol is ${label}`);
  if (p.effortIntent === "to failure")
    for (const id of ["light-is-not-automatically-safe", "blood-pressure"])
      found.set(id, "this protocol is taken to failure");
  if (p.muscleLength === "long")
    found.set("long-muscle-length", "this protocol is held at long muscle length");
  else if (p.muscleLength === undefined)
    found.set("long-muscle-length", "this protocol does not say at which muscle length it is held");
  return found;
};

/** A caution for long muscle length also stands where the length is not known. */
const applies = ({ when }: Caution, prescriptions: readonly Prescription[]): boolean =>
  when === "always" ||
  (when !== "profile" &&
    (prescriptions.length === 0 ||
      prescriptions.some(
        ({ muscleLength }) => muscleLength === "long" || muscleLength === undefined,
      )));

/** Stands among the first whatever is said, so that no profile reads as permission. */
const whomToAsk = "ask-a-clinician";
/** What fills up the first where little applies. */
const forEverybody: readonly string[] = ["breathing", "next-day-rule"];

const profileCautions = (
  { profile = {}, ages }: CautionsContext,
  prescriptions: readonly Prescription[],
  entry: (item: Caution) => CautionEntry,
): ProfileCautions => {
  const far = outsideAges(profile, ages);
  const other = otherJoint(profile, prescriptions);
  const entries = cautionsWording.cautions
    .filter((caution) => caution.when === "profile" || applies(caution, prescriptions))
    .map(entry);
  const named = (id: string): readonly CautionEntry[] => entries.filter((one) => one.id === id);
  const brought = broughtBy(profile).flatMap(({ id, because }) =>
    named(id).map((one) => ({
      ...one,
      because: one.because === undefined ? because : `${because}, and ${one.because}`,
    })),
  );
  const isNew = ({ id }: CautionEntry): boolean => brought.every((one) => one.id !== id);
  const applying = [
    ...brought,
    // Length first: of what a protocol gives reason for, it alone is not for every hard hold.
    ...[...named("long-muscle-length"), ...entries].filter(
      (one, place, all) => one.because !== undefined && isNew(one) && all.indexOf(one) === place,
    ),
  ];
  const filling = forEverybody
    .flatMap(named)
    .filter(({ id }) => applying.every((one) => one.id !== id))
    .slice(0, Math.max(0, firstCautions.fewest - 1 - applying.length));
  const leading = [...applying, ...filling].slice(0, firstCautions.most - 1);
  return {
    said: `Said of the person: ${profileWords(profile) || "nothing"}. It puts first what applies and clears nobody.`,
    ...(far === undefined ? {} : { outsideAges: far }),
    ...(other === undefined ? {} : { otherJoint: other }),
    first: [...leading, ...named(whomToAsk)],
    more: brought.filter((one) => !leading.includes(one)),
  };
};

/**
 * The cautions that go with one or several protocols, each with its source.
 *
 * None is a clearance; the first asks for a clinician and the second puts local rules and licensed
 * practice first. A short form is given only for what the document has already said in full. A profile puts three to five
 * before the others, in `profile`; it takes none away.
 *
 * @param prescription one, several side by side, or none (then every caution stands)
 * @param context what the document has shown, and the form wished for
 * @returns the block, with the state to hand to the next one of the same document
 * @source none: the wording and its sources are those of `shared/cautions.json`
 * @example cautionsFor({ sets: 1, repetitions: 4, holdSeconds: 30 }, { form: "short" }).form // => "full"
 */
export const cautionsFor = (
  prescription: Prescription | readonly Prescription[],
  context: CautionsContext = {},
): CautionsBlock => {
  const shown = context.shown ?? cautionsContextDefaults.shown;
  const wish = context.form ?? cautionsContextDefaults.form;
  const prescriptions = Array.isArray(prescription)
    ? (prescription as readonly Prescription[])
    : [prescription as Prescription];
  const because = new Map(prescriptions.flatMap((p) => [...reasons(p)]));
  const { title, cautions, stopSigns } = cautionsWording;
  const formOf = (id: string): "full" | "short" =>
    wish === "short" && shown.inFull.includes(id) ? "short" : "full";
  const entry = (item: Caution | StopSigns, form = formOf(item.id)): CautionEntry => {
    const reason = because.get(item.id);
    return {
      id: item.id,
      title: item.title,
      form,
      text: form === "short" ? item.short : item.text,
      ...(reason === undefined ? {} : { because: reason }),
      source: item.source,
      sourceKind: item.sourceKind,
      ...(item.doi === undefined ? {} : { doi: item.doi }),
    };
  };
  const entries = cautions
    .filter((caution) => applies(caution, prescriptions))
    .map((caution) => entry(caution));
  const stop = { ...entry(stopSigns), signs: stopSigns.signs };
  const full = [...entries, stop].filter(({ form }) => form === "full").map(({ id }) => id);
  return {
    title,
    form: full.length > 0 ? "full" : "short",
    entries,
    stopSigns: stop,
    ...(context.profile === undefined
      ? {}
      : { profile: profileCautions(context, prescriptions, (item) => entry(item, "full")) }),
    shown: {
      inFull: [...new Set([...shown.inFull, ...full])] as readonly string[],
    } as CautionsShown,
  };
};
