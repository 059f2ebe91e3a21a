/** What every report says about the use of its numbers; the order is the order of harm. */
export const reportCautions: readonly string[] = [
  "These are averages over groups of volunteers in published trials. They are not medical advice and not a clearance for anyone; ask a clinician about a person with symptoms, a condition, recent surgery or pregnancy, and follow local rules and the scope of your licence.",
  "Isometric effort raises blood pressure, more so with breath-holding, large muscles and long or near-maximal holds. Breathe through every hold.",
  "Trials differ in people, muscles, tests and supervision. The range of a further study says how far another study of this kind may fall from the average; a single person's change varies more than a group's.",
  "A difference between studies is not a randomised comparison. Only contrasts inside one study are protected by its randomisation.",
  "Nothing here looks beyond the range of doses, weeks and people that the file holds.",
];
