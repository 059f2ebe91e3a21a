/** Where and how a hold is done: muscle length, joint, angle, action, intent; and what is no part of a dose. */
import type { Joint } from "./prescription.js";
import { phrase, put, take, type Match, type Phrase, type Reading } from "./written-reading.js";

const lengthTail = "(?: (?:muscle|range|position|joint))?(?: (?:lengths?|positions?|range))?~";
const degree = "(?:°|degrees?~|degs?~)";
const angle = "-?\\d+(?:[.,]\\d+)?(?:e[+-]?\\d+)?";
const joints: readonly (readonly [Joint, string])[] = [
  [
    "ankle",
    "calf raises?|cal(?:f|ves)|ankles?|soleus|gastroc\\w*|achilles(?: tendon)?|plantar ?flexors?|dorsi ?flexors?",
  ],
  [
    "knee",
    "knee (?:ext(?:ensors?|ensions?)?|flexors?|flexion)|knees?|quad sets?|quad(?:s|riceps)?|vastus|hamstrings?|hams|patellar?(?: tendon)?|wall ?-?(?:sits?|squats?)|spanish squats?|leg ext(?:ension)?s?|leg press|split squats?|squats?|lunges?",
  ],
  [
    "hip",
    "hip (?:flexors?|extensors?|thrusts?)|hips?|glute bridges?|glutes?|gluteals?|adductors?|abductors?|copenhagen planks?|copenhagens?",
  ],
  ["trunk", "trunk|core|abs|abdominals?|side planks?|planks?|back extensors?"],
  ["neck", "neck (?:extensors?|flexors?)|necks?|cervical"],
  [
    "shoulder",
    "shoulders?(?: external rotators?| internal rotators?)?|rotator cuffs?|deltoids?|delts",
  ],
  ["elbow", "elbow (?:flexors?|extensors?)|elbows?|biceps(?: curls?)?|triceps"],
  ["wrist", "wrist (?:ext(?:ensors?|ension)?|flexors?|flexion)|wrists?|forearms?"],
  [
    "hand",
    "hand ?grip|hands?|grip|fingers?(?: flexors?)?|finger ?board|hang ?board|max hangs|hangs|ihg",
  ],
];
/** The joint that a name of it, or of its muscles, means. */
export const jointNamed = (name: string): Joint | undefined =>
  joints.find(([, words]) =>
    new RegExp(`^(?:${words.replaceAll(" ", "\\s*")})$`, "iu").test(name.trim()),
  )?.[0];

export const placeAndAction: readonly Phrase[] = [
  ...(
    [
      ["short", "short(?:er|ened|est)?|inner range|sml"],
      ["middle", "mid(?:dle)?(?:[\\s-]?range)?|middle range|mml"],
      ["long", "long(?:er|est)?|lengthened|elongated|stretched|outer range|lml"],
    ] as const
  ).map(([length, words]) =>
    phrase(`(?:at (?:a )?|in (?:a )?)?(?:${words})${lengthTail}`, (r, m) =>
      put(r, "muscleLength", length, m),
    ),
  ),
  ...joints.map(([joint, words]) =>
    phrase(`(?:at the |in the )?(?:${words})~ (?:at~)? (?:joint|muscles?)?`, (r, m) => {
      if (r.draft.joint === joint) return;
      put(r, "joint", joint, m);
      if (!m.text.startsWith(joint) && joint !== "hand") take(r, m.text.trim(), `the ${joint}`);
    }),
  ),
  phrase(
    `(?:at )?(?:joint )?(?:angles? )?(?:of |at |: )?(?<angles>${angle}(?: ${degree})?(?: (?:/|,|and) ${angle}(?: ${degree})?)*) ${degree} (?:kf~|of)?`,
    (r, m) => {
      const list = (m.said("angles").match(new RegExp(angle, "gu")) ?? []).map((a) =>
        Number(a.replace(",", ".")),
      );
      put(r, "trainingAngleDegrees", list, m);
    },
  ),
  phrase(`angles? (?:of|[:=])? (?<angle>${angle})(?! ${degree})`, (r, m) => {
    take(r, m.text, `${m.said("angle")}°`);
    put(r, "trainingAngleDegrees", [Number(m.said("angle").replace(",", "."))], m);
  }),
  phrase(
    "(?:push(?:ing|es)?|overcoming|pima)~ (?:against (?:a |an )?(?:fixed |immovable )?(?:stop|bar|wall|thing|object)|into (?:the |a )?(?:wall|pins|floor|bar))?",
    (r, m) => putAction(r, "pushing", m),
  ),
  phrase("squeez(?:es?|ing)~(?: (?:the |a )?(?:ball|pillow))?", (r, m) => {
    take(r, m.text, "pushing");
    putAction(r, "pushing", m);
  }),
  phrase("(?:against (?:a |an )?(?:fixed|immovable) (?:bar|stop|wall|object))~", (r, m) =>
    putAction(r, "pushing", m),
  ),
  phrase("(?:holding|yielding|hima)~ (?:a load)?|hold a load~", (r, m) =>
    putAction(r, "holding", m),
  ),
  phrase(
    "(?:as fast as (?:possible|you can)|fast as poss(?:ible)?~(?: to)?|explosive(?:ly)?|ballistic(?:ally)?)~",
    (r, m) => put(r, "effortIntent", "as fast as possible", m),
  ),
  phrase("ramped and sustained~|ramped~", (r, m) =>
    put(r, "effortIntent", "ramped and sustained", m),
  ),
  phrase("(?:un)?(?:to|till) failure~", (r, m) => put(r, "effortIntent", "to failure", m)),
  phrase('intent [:=]? "(?<intent>[^"\\n\\r]*)"', (r, m) =>
    put(r, "effortIntent", m.asWritten("intent"), m),
  ),
];
const putAction = (r: Reading, action: "pushing" | "holding", m: Match): void => {
  if (r.draft.action !== action) put(r, "action", action, m);
};

export const leftOut: readonly Phrase[] = [
  phrase(
    "(?:(?:on |/ ?|per |each |every )(?:leg|side|arm|hand|foot)~|e/s~|ea(?:\\.|~)|bilateral(?:ly)?~|unilateral(?:ly)?~|(?:single|one)[\\s-](?:leg|arm)(?:ged)?~)",
    (r, m) => take(r, m.text.trim(), "the dose of one side"),
  ),
  phrase(
    "pain[\\s-]?(?:free|(?:<|≤|<=|up to|max|below|under|no more than)? ?\\d+(?: ?/ ?10)?)~",
    (r, m) => take(r, m.text.trim(), "a limit that is no part of the dose"),
  ),
  phrase(
    "(?:imtp|(?:isometric )?mid[\\s-]?thigh pulls?|dead ?lifts?(?: pulls?)?|bench(?: press)?|l[\\s-]sits?|(?:tuck )?front levers?|push[\\s-]?ups?|chin[\\s-]?ups?|pull[\\s-]?ups?|belt squats?|dead hangs?)~",
    (r, m) => take(r, m.text.trim(), "a movement of several joints; no joint is set"),
  ),
  phrase("(?:seated|standing|supine|prone|lying|kneeling)~", (r, m) =>
    take(r, m.text.trim(), "a posture that is no part of the dose"),
  ),
  phrase("{a:T} ramp(?:ed)?~|ramp(?:ed)?(?: up)? (?:of |over )?{b:T}", (r, m) =>
    take(r, m.text.trim(), "time that the hold does not count"),
  ),
];
