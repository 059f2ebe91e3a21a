import type { Joint } from "../protocol/prescription.js";

/** Words of muscle groups and the joint they move; the first that fits counts. */
const words: readonly (readonly [RegExp, Joint])[] = [
  [/knee|quadricep|vastus|hamstring/iu, "knee"],
  [/ankle|plantar|dorsiflex|calf|gastrocn|soleus|triceps surae|tibialis/iu, "ankle"],
  [/elbow|biceps brachii|triceps brachii|brachialis/iu, "elbow"],
  [/grip|hand|finger|thumb/iu, "hand"],
  [/wrist|forearm/iu, "wrist"],
  [/shoulder|deltoid|rotator/iu, "shoulder"],
  [/hip|glute|adductor/iu, "hip"],
  [/neck|cervic/iu, "neck"],
  [/trunk|lumbar|back|abdom|erector/iu, "trunk"],
];

/**
 * The joint a muscle group moves, by the words of its name; undefined where none is known.
 *
 * @example
 * jointOfMuscle("knee extensors") // => "knee"
 */
export const jointOfMuscle = (muscleGroup: string | undefined): Joint | undefined =>
  muscleGroup === undefined ? undefined : words.find(([word]) => word.test(muscleGroup))?.[1];
