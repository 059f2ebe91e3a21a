/** Which side of a value a probability counts: at or below it, or above it. */
export type Tail = "lower" | "upper";
