/**
 * The wording of the cautions, the same as in `shared/cautions.json`, which a test keeps equal. It is
 * written out here, and long for that reason, so that a page without a disk has it too. The file that
 * says what it means is `cautions.ts`.
 */

/** How a statement is known; what each means stands in `cautionsWording.sourceKinds`. */
export const cautionSourceKinds = [
  "published paper",
  "published table",
  "secondary account",
  "common practice",
] as const;
export type CautionSourceKind = (typeof cautionSourceKinds)[number];

/** Where a statement comes from; `source` says "common practice, no source" where there is none. */
export type Sourced = Readonly<{ source: string; sourceKind: CautionSourceKind; doi?: string }>;

export type Caution = Sourced &
  Readonly<{
    id: string;
    title: string;
    /** "profile": only where a person's profile brings it. */
    when: "always" | "long muscle length" | "profile";
    /** Stands in for `text` once that was shown. */
    short: string;
    text: string;
  }>;

export type StopSigns = Sourced &
  Readonly<{ id: string; title: string; short: string; text: string; signs: readonly string[] }>;

/** A convention for pain during and after training, from 0 to 10. */
export type PainBands = Sourced &
  Readonly<{
    about: string;
    scale: string;
    bands: readonly Readonly<{ from: number; to: number; label: string }>[];
  }>;

export type CautionsWording = Readonly<{
  title: string;
  about: string;
  sourceKinds: Readonly<Record<CautionSourceKind, string>>;
  cautions: readonly Caution[];
  stopSigns: StopSigns;
  painBands: PainBands;
}>;

/**
 * Every caution with its two wordings and its source, the signs at which to stop, and the pain bands.
 *
 * @source each entry names its own, or says that it is common practice
 */
export const cautionsWording: CautionsWording = {
  title: "Cautions shown wherever a protocol is shown",
  about:
    "Never a clearance. Each item says where it comes from; what is common practice without a source says so. The short form may stand in for the long one only after the long one was shown once in the same document, and neither can be switched off.",
  sourceKinds: {
    "published paper": "the statement or number was read in the paper or its abstract",
    "published table":
      "the statement was read in a table of a published review that gathers guidelines",
    "secondary account": "the original was not read; the statement is as others describe it",
    "common practice": "no source was read; it is what practitioners usually advise",
  },
  cautions: [
    {
      id: "ask-a-clinician",
      title: "Ask a clinician first",
      when: "always",
      short:
        "Ask a clinician before starting if you have any condition, symptom or doubt. Nothing here is a clearance.",
      text: "What is shown here is drawn from groups of volunteers and says nothing about whether a given person may train. Anyone with a heart, blood-pressure, eye, nerve, joint or other medical condition, with symptoms, who is pregnant, recovering, or in doubt should ask a clinician first and follow what they say.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "local-rules",
      title: "Local rules and licensed practice come first",
      when: "always",
      short:
        "Local rules, your scope of practice and a treating clinician's instructions come before anything shown here.",
      text: "Where local law, an employer's or insurer's rules, professional guidance, the scope of a licence or a treating clinician's instructions say otherwise, they come first. Treating an injury or a disease is for those licensed to do so.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "safety-evidence-is-incomplete",
      title: "Safety is less well studied than benefit",
      when: "always",
      short: "Trials report harms poorly; no reported harm is not the same as no harm.",
      text: "Trials of isometric training seldom report harms fully. A panel of experts on isometric training for blood pressure agreed on 43 of 50 items overall but on only 7 of 10 about safety. No reported harm is not the same as no harm.",
      source: "Baffour-Awuah B and others (2022) Hypertension Research 45:483–495",
      sourceKind: "published paper",
      doi: "10.1038/s41440-021-00839-3",
    },
    {
      id: "blood-pressure",
      title: "Blood pressure rises during a hold",
      when: "always",
      short:
        "Blood pressure rises during every hold, most with high intensity, long holds, large muscles and a held breath.",
      text: "Blood pressure rises during static effort, more with more muscle, a higher intensity and longer holds. In five bodybuilders lifting heavy loads with a held breath, pressures inside the artery averaged 320/250 mmHg at their peak in a double-leg press. That was heavy dynamic lifting and not a hold, but it shows how high pressure can go when strain and a held breath meet.",
      source: "MacDougall JD and others (1985) Journal of Applied Physiology 58:785",
      sourceKind: "published paper",
      doi: "10.1152/jappl.1985.58.3.785",
    },
    {
      id: "light-is-not-automatically-safe",
      title: "A light load taken to failure is not the safe choice",
      when: "always",
      short:
        "A light hold or set taken to failure can raise pressure as much as a heavy one that stops early.",
      text: "In ten people with high blood pressure, systolic pressure rose by 75 mmHg with 40% of the one-repetition maximum taken to exhaustion and by 80 mmHg with 80%; both rises were larger than in ten people with normal pressure. A low load lowers the strain only if the work stops well before failure.",
      source: "Nery SS and others (2010) Clinics 65:271",
      sourceKind: "published paper",
    },
    {
      id: "pressure-in-wall-squats",
      title: "Moderate holds can still pass published stopping limits",
      when: "always",
      short: "In two-minute wall squats some people passed a diastolic pressure of 115 mmHg.",
      text: "In 26 men with resting pressures of 120–139 over 80–90 mmHg, four two-minute wall squats brought systolic pressure to about 172 mmHg and never above 250; diastolic pressure passed 115 mmHg in 6 of 26 during training. The limits used there to stop exercise were 250 systolic or 115 diastolic. No adverse event was reported.",
      source: "Wiles JD and others (2018) Medicine 97:e0105",
      sourceKind: "published paper",
    },
    {
      id: "breathing",
      title: "Keep breathing",
      when: "always",
      short: "Breathe out or breathe steadily through the hold; do not hold your breath.",
      text: "Breathe out on the effort or breathe steadily throughout the hold. A hold that cannot be kept up without holding the breath is too hard for that day: lower the intensity or shorten it.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "heart-and-vessels-absolute",
      title: "Conditions that rule training out until a clinician has decided",
      when: "always",
      short:
        "Not without a clinician: unstable heart disease, uncontrolled rhythm, decompensated heart failure, severe stenosis with symptoms, pressure above 180/110 mmHg, aortic dissection, Marfan syndrome, inflammation of the heart, severe pulmonary hypertension.",
      text: "A published review lists as absolute contraindications to resistance exercise in people with heart and vessel disease: unstable coronary disease, uncontrolled rhythm disturbance, decompensated heart failure, severe stenosis with symptoms, severe pulmonary hypertension (mean pulmonary artery pressure above 55 mmHg), uncontrolled high blood pressure above 180/110 mmHg, acute inflammation of the heart's lining, muscle or sac, Marfan syndrome, and aortic dissection. Whether training is ever possible is for a clinician to decide.",
      source: "Table 1 of a 2024 review, PMC10959113",
      sourceKind: "published table",
      doi: "10.2147/IBPC.S449086",
    },
    {
      id: "heart-and-vessels-relative",
      title: "Conditions to discuss with a clinician before training",
      when: "always",
      short:
        "Discuss with a clinician first: major heart risk factors, pressure above 160/100 mmHg, diabetes, very low fitness, joint or muscle limits, pacemaker or defibrillator.",
      text: "The same review lists as relative contraindications: major risk factors for coronary disease, uncontrolled high blood pressure above 160/100 mmHg, diabetes, musculoskeletal limitations, a capacity below 4 metabolic equivalents, and a pacemaker or defibrillator. National guidance draws some of these lines elsewhere, so the local guidance decides.",
      source: "Table 1 of a 2024 review, PMC10959113",
      sourceKind: "published table",
      doi: "10.2147/IBPC.S449086",
    },
    {
      id: "clearance-first",
      title: "Aneurysm, stroke, clot",
      when: "always",
      short:
        "Known aneurysm, recent stroke, heart attack or clot: only with a clinician's agreement.",
      text: "A known aneurysm of the aorta or the brain, a recent stroke, a recent heart attack or a recent clot needs a clinician's agreement before any static effort.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "eye-pressure",
      title: "Eyes: pressure and glaucoma",
      when: "always",
      short:
        "Straining raises the pressure in the eye; with glaucoma or a risk of it, ask an eye specialist.",
      text: "Muscle effort, most of all with a held breath, can raise the pressure inside the eye and lower its blood supply. For people prone to glaucoma any such rise may do harm, and the evidence is thin. Ask an eye specialist first.",
      source: "McMonnies CW (2016) Journal of Optometry, PMC4911456",
      sourceKind: "published paper",
      doi: "10.1016/j.optom.2015.12.001",
    },
    {
      id: "retina",
      title: "Eyes: retina",
      when: "always",
      short:
        "Active or severe retinal disease, or recent eye surgery: no straining without an eye specialist's agreement.",
      text: "With active or severe retinal disease, such as that of diabetes, or after recent eye surgery, straining and heavy static work are usually avoided until an eye specialist agrees.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "hernia",
      title: "Hernia",
      when: "always",
      short:
        "With a hernia ask a clinician; breathe out on the effort and avoid maximal straining.",
      text: "Straining and a held breath raise the pressure inside the abdomen and may worsen a hernia of its wall. Ask a clinician, breathe out on the effort and keep away from maximal straining. That lifting causes hernias is poorly supported.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "pregnancy",
      title: "Pregnancy and after birth",
      when: "always",
      short:
        "In pregnancy and after birth ask the midwife or clinician, who can adapt the programme.",
      text: "Exercise in pregnancy without medical or obstetric complications is described as safe and desirable, with changes to the programme as needed. Ask the midwife or clinician before starting or going on.",
      source:
        "American College of Obstetricians and Gynecologists (2020) Committee Opinion 804, abstract",
      sourceKind: "published paper",
    },
    {
      id: "pregnancy-holds",
      title: "Pregnancy: positions and breath",
      when: "always",
      short: "In pregnancy avoid long static work lying on the back and holding the breath.",
      text: "Long static work lying on the back and holding the breath are usually avoided in pregnancy.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "recent-surgery",
      title: "Recent surgery",
      when: "always",
      short:
        "After recent surgery of belly, eye, heart or joint: only when the surgical team agrees.",
      text: "After surgery of the belly, an eye, the heart or a joint, begin only when the surgical team agrees, and at the intensity and angles they allow.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "injured-site",
      title: "An acute injury is not trained",
      when: "always",
      short:
        "Do not load an acute tear, a fracture, an unhealed wound or joint, an inflamed joint, or where there is numbness or weakness of new onset.",
      text: "An acute tear, a fracture, a repair that has not healed, an inflamed joint, or new numbness or weakness is a reason not to train that site and to see a clinician.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "pain-bands",
      title: "Pain while training: a convention, not a law",
      when: "always",
      short:
        "Pain from 0 to 3 of 10 is usually taken as safe, 4 to 5 as acceptable, above 5 as a reason to stop or reduce. Judge again the next day.",
      text: "A convention from rehabilitation of painful tendons rates pain from 0 to 10 during exercise: 0 to 3 safe, 4 to 5 acceptable, above 5 stop or reduce. It was made for tendons under a clinician's care; whether painful exercise helps elsewhere is still being tested in trials. Pain that is sharp, new or spreading is not covered by it.",
      source:
        "Silbernagel KG and others (2007) American Journal of Sports Medicine 35:897, as clinic pages describe it",
      sourceKind: "secondary account",
    },
    {
      id: "next-day-rule",
      title: "The next day decides",
      when: "always",
      short: "If pain or stiffness is higher the next day and stays so, reduce the load.",
      text: "Judge a session by the next 24 hours as well. If pain or stiffness has settled by the next day the load may be repeated; if it is higher and stays so, reduce intensity, hold length or sets.",
      source:
        "Silbernagel KG and others (2007) American Journal of Sports Medicine 35:897, as clinic pages describe it",
      sourceKind: "secondary account",
    },
    {
      id: "long-muscle-length",
      title: "Long muscle length: go slowly",
      when: "long muscle length",
      short:
        "Maximal holds at long muscle length cause more soreness and a longer loss of force; begin with moderate intensity and few holds.",
      text: "After 30 maximal contractions of the elbow flexors at a long length, force was still 20% down after 24 hours with more soreness, against 7% down near the strongest angle, although the force held there was higher. The authors advise lengths below the strongest one and half of the greatest force or less where damage must be limited.",
      source:
        "Allen TJ, Jones T, Tsay A, Morgan DL, Proske U, Muscle damage produced by isometric contractions in human elbow flexors, Journal of Applied Physiology",
      sourceKind: "published paper",
    },
    {
      id: "one-thing-at-a-time",
      title: "Raise one thing at a time",
      when: "always",
      short:
        "Raise intensity, hold length, number of holds or muscle length one at a time; near-maximal intensity and long length come last.",
      text: "Begin at middle muscle length and moderate intensity, change one variable at a time, and come to long muscle length and near-maximal intensity last. Expect soreness for a day or two after the first sessions.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "high-blood-pressure",
      title: "High blood pressure",
      when: "profile",
      short:
        "With high blood pressure the rise in a hold is larger; treatment at rest does not show what happens in a hold.",
      text: "In ten people with high blood pressure, systolic pressure rose by 80 mmHg with 80% of the one-repetition maximum, against 62 mmHg in ten people with normal pressure; with a light load to exhaustion it rose by 75 against 67 mmHg. Tablets that keep the pressure at rest down do not show how far it rises in a hold: ask whoever treats it.",
      source: "Nery SS and others (2010) Clinics 65:271; what to ask is common practice",
      sourceKind: "published paper",
    },
    {
      id: "below-eighteen",
      title: "Under 18",
      when: "profile",
      short:
        "The endurance times come from adults; under 18 it is for those who look after training and health.",
      text: "The endurance times come from groups of adults, with mean ages of 18 to 50 years. For people under 18 whether and how hard to train is for those who look after their training and health (common practice).",
      source: "Frey Law LA, Avin KG (2010) Ergonomics 53:109–129",
      sourceKind: "published paper",
      doi: "10.1080/00140130903389068",
    },
    {
      id: "older-adults",
      title: "65 and over",
      when: "profile",
      short:
        "Few trials of isometric training are of older adults; go on slowly, and ask about bones, balance and medicines.",
      text: "Few trials of isometric training are of older adults: in one, 13 people of 71 years on average gained 17.6% of isometric force of the ankle in 4 weeks, printed without a spread. What is known of lifting: 16 weeks at 80% of the one-repetition maximum raised the isometric torque of the knee extensors of men of 65 to 81 years by 19%. Ask about bones, balance, heart and medicines first.",
      source:
        "Casolo A and others (2026) J Physiol 604:2796–2815 and Acta Physiologica Scandinavica (2003) 177:69, abstracts; what to ask is common practice",
      sourceKind: "published paper",
    },
    {
      id: "surgery-within-a-year",
      title: "Surgery within the last year",
      when: "profile",
      short:
        "After surgery within the last year the surgical team says which loads and angles are allowed; test that side anew.",
      text: "Which loads and angles are allowed is for the surgical team to say, also after the first weeks. Take percentages of what that side can do now, tested anew, and never of the other side.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "old-surgery",
      title: "An old operation",
      when: "profile",
      short: "After an old operation ask whether any load or angle is still ruled out.",
      text: "An operation of more than a year ago may still rule out loads or angles, most of all where something was replaced or fused. Ask whoever follows it up.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
    {
      id: "painful-shoulder",
      title: "Painful shoulders",
      when: "profile",
      short: "Whether a painful shoulder should be exercised into pain is still being tested.",
      text: "Whether exercise that hurts should be allowed or avoided for a painful shoulder is under trial in 84 patients; until it is known, the pain bands are a convention only.",
      source: "PASE trial, protocol",
      sourceKind: "published paper",
      doi: "10.1186/s13063-024-07973-6",
    },
    {
      id: "neck-and-trunk",
      title: "Neck and trunk",
      when: "profile",
      short:
        "With neck or trunk holds stop for tingling, weakness, dizziness or pain that runs into a limb.",
      text: "Holds of the neck or trunk invite a held breath. Stop for tingling, weakness, dizziness or pain that runs into an arm or a leg, and see a clinician before going on.",
      source: "common practice, no source",
      sourceKind: "common practice",
    },
  ],
  stopSigns: {
    id: "stop-signs",
    title: "Stop at once and seek help",
    short:
      "Stop at once for chest pain, faintness, changed vision, a severe headache, unusual breathlessness, palpitations, or sudden weakness or numbness.",
    signs: [
      "chest pain or pressure",
      "faintness or dizziness",
      "changed vision",
      "sudden or severe headache",
      "unusual breathlessness",
      "palpitations",
      "sudden weakness, numbness or trouble speaking",
      "a sudden sharp pain or a snap",
    ],
    text: "If any of these does not pass quickly, or is severe, call the local emergency number.",
    source: "common practice, no source",
    sourceKind: "common practice",
  },
  painBands: {
    about: "The convention of the caution named pain-bands, for drawing and for labels.",
    scale: "0 no pain, 10 worst pain imaginable",
    source:
      "Silbernagel KG and others (2007) American Journal of Sports Medicine 35:897, as clinic pages describe it",
    sourceKind: "secondary account",
    bands: [
      {
        from: 0,
        to: 3,
        label: "usually taken as safe",
      },
      {
        from: 4,
        to: 5,
        label: "usually taken as acceptable",
      },
      {
        from: 6,
        to: 10,
        label: "stop or reduce",
      },
    ],
  },
};
