import { useApp, useAppState, useChoice } from "../../app.js";
import { useDraft } from "../use-draft.js";

/** Letters of the protocols, in order; each is also the end of its choice's name. */
export const protocolLetters = ["A", "B", "C", "D", "E", "F"] as const;
export type ProtocolLetter = (typeof protocolLetters)[number];

/** What stands in the first two cards before anything is written: common forms, equal weeks. */
export const firstProtocols = [
  "4 × 20 s at 70%, rest 60 s, 3/week, 8 weeks, middle, knee",
  "4 × (5 × 3 s) at 95%, rest 10 s, 120 s between sets, 3/week, 8 weeks, middle, knee",
] as const;

const choiceOf = (letter: ProtocolLetter): string => `protocols-${letter.toLowerCase()}`;

/** Protocols in the address; the first ones where there are none. */
export const protocolTextsOf = (choices: Readonly<Record<string, string>>): readonly string[] =>
  protocolLetters.flatMap((letter, place) => {
    const text = choices[choiceOf(letter)] ?? firstProtocols[place];
    return text === undefined ? [] : [text];
  });

const comparedIn = (
  choices: Readonly<Record<string, string>>,
): readonly (readonly [ProtocolLetter, string])[] =>
  protocolLetters.flatMap((letter) => {
    const text = choices[choiceOf(letter)];
    return text === undefined ? [] : [[letter, text] as const];
  });

/** Choices of the views that ask about one protocol. */
const oneProtocolChoices = ["hold-session", "ramp-target", "follow-protocol"] as const;

/** Where the protocol of a view comes from: written in it, or taken in its place. */
export type ProtocolFrom = "own" | "comparison" | "last session" | "example";

/**
 * The one protocol of a view, kept in the address: where the view has none of its own yet, A of the comparison, else the
 * session asked about last.
 */
export const useOneProtocol = (
  name: (typeof oneProtocolChoices)[number],
  first: string,
): readonly [string, (text: string) => void, from: ProtocolFrom] => {
  const choices = useAppState(({ address }) => address.choices);
  const compared = (comparedIn(choices).length > 0 ? protocolTextsOf(choices) : []).slice(0, 1);
  const last = oneProtocolChoices.flatMap((other) =>
    other === name ? [] : (choices[other] ?? []),
  );
  const [kept, keep] = useChoice(name, compared[0] ?? last[0] ?? first);
  const from =
    choices[name] !== undefined
      ? "own"
      : compared.length > 0
        ? "comparison"
        : last.length > 0
          ? "last session"
          : "example";
  return [...useDraft(kept, keep), from];
};

/** Those written to be compared, by letter. */
export const useComparedWritten = (): ReturnType<typeof comparedIn> =>
  comparedIn(useAppState(({ address }) => address.choices));

const changesTo = (texts: readonly string[]): Readonly<Record<string, string | undefined>> =>
  Object.fromEntries(
    protocolLetters.map((letter, place) => [
      choiceOf(letter),
      texts[place] === firstProtocols[place] ? undefined : texts[place],
    ]),
  );

/**
 * The protocols as written, and how to change them all; shown at once, kept in the address when the
 * hand rests.
 */
export const useProtocolTexts = (): readonly [
  readonly string[],
  (texts: readonly string[]) => void,
] => {
  const { choose } = useApp();
  const choices = useAppState(({ address }) => address.choices);
  return useDraft(protocolTextsOf(choices), (texts) =>
    choose(changesTo(texts.slice(0, protocolLetters.length))),
  );
};
