/**
 * What a person says of themselves, and which cautions it puts first. It chooses among cautions and tells what was never
 * studied; there is nothing it can say that takes a caution away or clears anybody.
 */
import type { Joint, Prescription } from "../protocol/prescription.js";

/** Where an operation was: a joint, or one of the places whose healing an effort strains. */
export type SurgerySite = Joint | "eye" | "belly" | "heart";

/** What was said; a field that is absent was not said, and nothing is assumed in its place. */
export type Profile = Readonly<{
  ageYears?: number;
  joint?: Joint;
  surgery?: "none" | Readonly<{ site?: SurgerySite; weeksAgo?: number }>;
  bloodPressure?:
    | "usual"
    | "high"
    | "high, treated"
    | "high, not treated"
    | Readonly<{ systolic: number; diastolic: number }>;
  pregnancy?: "none" | "pregnant" | "after birth";
}>;

/** Lowest and highest mean age of the groups that trained in a file, years. */
export type StudiedAges = Readonly<{ low: number; high: number }>;

/** Bands of a profile. Recent surgery (under 12 weeks) and "within a year" are common practice, no source. */
export const profileBands = {
  youngest: 18,
  older: 65,
  recentSurgeryWeeks: 12,
  yearOfSurgeryWeeks: 52,
  absolute: { systolic: 180, diastolic: 110 },
  relative: { systolic: 160, diastolic: 100 },
  high: { systolic: 140, diastolic: 90 },
  raised: { systolic: 120, diastolic: 80 },
} as const;

/** Mean ages of the groups whose endurance times are behind every grade. @source Frey Law and Avin (2010), see `endurance-time.ts` */
export const enduranceAges: StudiedAges = { low: 18, high: 50 };

/** Most and fewest cautions that stand first. */
export const firstCautions = { fewest: 3, most: 5 } as const;

const surgeryWords = ({ site, weeksAgo }: Exclude<Profile["surgery"], "none" | undefined>) =>
  `${site === undefined ? "" : `${site} `}surgery${weeksAgo === undefined ? ", when is not said" : ` ${Number(weeksAgo.toFixed(1))} weeks ago`}`;

const pressureWords = (said: NonNullable<Profile["bloodPressure"]>): string =>
  typeof said === "object"
    ? `blood pressure ${said.systolic}/${said.diastolic} mmHg`
    : said === "usual"
      ? "blood pressure as usual"
      : `${said.replace("high", "high blood pressure")}`;

/** A profile as it was understood, in a few words. */
export const profileWords = (p: Profile): string =>
  [
    ...(p.ageYears === undefined ? [] : [`${p.ageYears} years`]),
    ...(p.joint === undefined ? [] : [p.joint]),
    ...(p.surgery === undefined
      ? []
      : [p.surgery === "none" ? "no surgery" : surgeryWords(p.surgery)]),
    ...(p.bloodPressure === undefined ? [] : [pressureWords(p.bloodPressure)]),
    ...(p.pregnancy === undefined ? [] : [p.pregnancy === "none" ? "not pregnant" : p.pregnancy]),
  ].join("; ");

/** A caution by its id, with what was said that brings it. */
export type Brought = Readonly<{ id: string; because: string }>;

/** The cautions that a profile brings, those that weigh most first. */
export const broughtBy = (p: Profile): readonly Brought[] => {
  const found: Brought[] = [];
  const bring = (because: string, ...ids: readonly string[]): void => {
    for (const id of ids)
      if (found.every((one) => one.id !== id)) found.push({ id, because: `you said ${because}` });
  };
  const { surgery, bloodPressure: pressure, ageYears: age, joint } = p;
  const b = profileBands;
  const measured = typeof pressure === "object" ? pressure : undefined;
  const reaches = (line: Readonly<{ systolic: number; diastolic: number }>, over: 0 | 1): boolean =>
    measured !== undefined &&
    (measured.systolic >= line.systolic + over || measured.diastolic >= line.diastolic + over);
  const pressureSaid = pressure === undefined ? "" : pressureWords(pressure);
  if (reaches(b.absolute, 1)) bring(pressureSaid, "heart-and-vessels-absolute");
  if (typeof surgery === "object") {
    const said = surgeryWords(surgery);
    const { site, weeksAgo = 0 } = surgery;
    if (site === "eye" && weeksAgo < b.yearOfSurgeryWeeks) bring(said, "retina");
    if (weeksAgo < b.recentSurgeryWeeks) bring(said, "recent-surgery", "injured-site");
  }
  if (p.pregnancy === "pregnant" || p.pregnancy === "after birth") bring(p.pregnancy, "pregnancy");
  if (pressure === "high, not treated" || (reaches(b.relative, 1) && !reaches(b.absolute, 1)))
    bring(pressureSaid, "heart-and-vessels-relative");
  if (reaches(b.high, 0) || (typeof pressure === "string" && pressure.startsWith("high")))
    bring(pressureSaid, "high-blood-pressure");
  else if (reaches(b.raised, 0)) bring(pressureSaid, "pressure-in-wall-squats");
  if (age !== undefined && age < b.youngest) bring(`${age} years`, "below-eighteen");
  if (age !== undefined && age >= b.older) bring(`${age} years`, "older-adults");
  if (typeof surgery === "object" && (surgery.weeksAgo ?? 0) >= b.recentSurgeryWeeks)
    bring(
      surgeryWords(surgery),
      (surgery.weeksAgo ?? 0) < b.yearOfSurgeryWeeks ? "surgery-within-a-year" : "old-surgery",
    );
  if (p.pregnancy === "pregnant") bring("pregnant", "pregnancy-holds");
  if (joint === "shoulder") bring("shoulder", "painful-shoulder");
  if (joint === "neck" || joint === "trunk") bring(joint, "neck-and-trunk");
  if (joint === "knee" || joint === "hip") bring(joint, "blood-pressure");
  if (joint === "elbow") bring("elbow", "long-muscle-length");
  if (joint !== undefined) bring(joint, "pain-bands", "next-day-rule");
  return found;
};

const span = ({ low, high }: StudiedAges): string =>
  low === high ? `${low} years` : `${low} to ${high} years`;
const outside = (age: number, { low, high }: StudiedAges): boolean => age < low || age > high;

/**
 * That an age lies outside what was studied, in a sentence; undefined where no age was said or it lies within.
 *
 * @param ages those of the file; null where a file says none, undefined where there is no file
 */
export const outsideAges = (
  { ageYears: age }: Profile,
  ages: StudiedAges | null | undefined,
): string | undefined => {
  if (age === undefined) return undefined;
  const parts = [
    ...(ages === null
      ? [`the file gives no ages, so whether anyone of ${age} was studied cannot be told`]
      : ages !== undefined && outside(age, ages)
        ? [`the groups that trained in the file had mean ages of ${span(ages)}`]
        : []),
    ...(outside(age, enduranceAges)
      ? [
          `the endurance times behind whether a session can be held come from healthy adults with mean ages of ${span(enduranceAges)} (Frey Law and Avin 2010)`,
        ]
      : []),
  ];
  return parts.length === 0
    ? undefined
    : `Outside the ages studied: you said ${age} years, and ${parts.join("; ")}. Take every number here as unproven at ${age}.`;
};

/** That the joint named is none that is trained; undefined where it is, or nothing is known. */
export const otherJoint = (
  { joint }: Profile,
  prescriptions: readonly Prescription[],
): string | undefined => {
  const trained = [...new Set(prescriptions.flatMap((p) => p.joint ?? []))];
  return joint === undefined || trained.length === 0 || trained.includes(joint)
    ? undefined
    : `The profile names the ${joint}; what is trained here is the ${trained.join(" and the ")}.`;
};
