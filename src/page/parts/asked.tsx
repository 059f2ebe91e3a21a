/** What every question is asked with, chosen once for the whole page and kept in the address. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { z } from "zod";
import { effectShape } from "../../answers/effect-options.js";
import { defaultOf, kebab, kindOf, wordsOf } from "../../answers/option.js";
import type { AnswerTo } from "../../answers/question.js";
import { questionList, type QuestionId, type QuestionOf } from "../../answers/question-list.js";
import { capital, confidenceWords } from "../../tables/number-format.js";
import { useAnswer, useApp, useAppState, useChoice, type Coming } from "../app.js";
import type { OpenFile } from "../open-file.js";
import { Skeleton } from "./hold-strip.js";

type Shape = Readonly<Record<string, z.ZodType>>;

const shared: Shape = effectShape;

/** Options that stand in sight; the others unfold. */
const inSight = ["where", "scale", "contrast", "correlation", "confidence"];

/** Options of a shape as the address holds them; those that are not there have their defaults. */
const chosenOf = (
  shape: Shape,
  choices: Readonly<Record<string, string>>,
  before: string,
): Readonly<Record<string, string>> =>
  Object.fromEntries(
    Object.keys(shape).flatMap((name) => {
      const value = choices[`${before}${kebab(name)}`];
      return value === undefined || value === "" ? [] : [[name, value]];
    }),
  );

/** What the page was told of rows, scale, contrast, assumptions and confidence. */
export const useShared = (): Readonly<Record<string, string>> =>
  chosenOf(
    shared,
    useAppState((state) => state.address.choices),
    "",
  );

/** A question's own options as the address holds them, under its id. */
export const useOwn = (id: QuestionId): Readonly<Record<string, string>> => {
  const choices = useAppState((state) => state.address.choices);
  const shape = useShape(id);
  return shape === undefined ? {} : chosenOf(shape, choices, `${id}-`);
};

/** What stands for the open file in a key. */
export const useFileKey = (): string => {
  const check = useAppState((state) => state.check);
  return `${check?.fingerprint ?? ""} ${check?.name ?? ""}`;
};

/** The older file that the open one is set beside, and what stands for it in a key. */
export const useOlder = (): Readonly<{ older: OpenFile | undefined; olderKey: string }> => {
  const older = useAppState((state) => state.older);
  return {
    older: older?.file,
    olderKey: older === undefined ? "" : `${older.fingerprint} ${older.file.name}`,
  };
};

type AnswerOf<Id extends QuestionId> = AnswerTo<QuestionOf<Id>>;

/**
 * The answer to a question about the open file, asked with the page's shared options and those given.
 *
 * @param title shown with progress and a cancel button while it runs; empty for quick work
 */
export const useQuestion = <Id extends QuestionId>(
  id: Id,
  options: Readonly<Record<string, unknown>> = {},
  title = "",
): Coming<AnswerOf<Id>> => {
  const { worker } = useApp();
  const asked = { id, options, shared: useShared() };
  return useAnswer(
    `${useFileKey()} ${JSON.stringify(asked)}`,
    (tell) => worker.ask("ask", asked, { tell }) as unknown as Promise<AnswerOf<Id>>,
    title,
  );
};

const shapes = new Map<QuestionId, Shape>();

/** The options a question has beyond the shared ones; undefined while they are looked up for the first time. */
const useShape = (id: QuestionId): Shape | undefined => {
  const [, setFound] = useState<QuestionId>();
  useEffect(() => {
    if (shapes.has(id)) return;
    void questionList[id].load().then(({ options }) => {
      // What a person says of themselves never comes from an address, nor goes there.
      const own = part(
        options,
        (name, schema) => !Object.hasOwn(shared, name) && wordsOf(schema).keptNowhere !== true,
      );
      shapes.set(id, own);
      setFound(id);
    });
  }, [id]);
  return shapes.get(id);
};

/** What asks a question, once its options are known: long work is not begun without what the address says of it. */
export const OptionsKnown = ({
  id,
  children,
}: Readonly<{ id: QuestionId; children: ComponentChildren }>) =>
  useShape(id) === undefined ? <Skeleton /> : <>{children}</>;

const labelOf = (name: string, schema: z.ZodType): string =>
  capital(wordsOf(schema).label ?? kebab(name).replaceAll("-", " "));

/** A field for one option, by its kind. */
const OptionField = ({
  name,
  schema,
  before = "",
}: Readonly<{ name: string; schema: z.ZodType; before?: string }>) => {
  const standard = defaultOf(schema);
  const [value, choose] = useChoice(`${before}${kebab(name)}`, "");
  // An answer that comes while one types must not take the half-typed text away.
  const [draft, setDraft] = useState<string>();
  const { kind, names } = kindOf(schema);
  const { help, labels = {} } = wordsOf(schema);
  const plain = standard === undefined || standard === false ? "" : String(standard);
  const usual = labels[plain] ?? (plain === "" ? "as usual" : plain);
  return (
    <label class="wish" title={help}>
      <span>{labelOf(name, schema)}</span>
      {kind === "one" || kind === "switch" ? (
        <select value={value} onChange={(event) => choose(event.currentTarget.value)}>
          <option value="">{kind === "switch" ? "no" : usual}</option>
          {(kind === "switch" ? ["true"] : names.filter((one) => one !== plain)).map((one) => (
            <option key={one} value={one}>
              {kind === "switch" ? "yes" : (labels[one] ?? one)}
            </option>
          ))}
        </select>
      ) : (
        <input
          type="text"
          spellcheck={false}
          autocomplete="off"
          value={draft ?? value}
          placeholder={(labels[plain] ?? plain).replaceAll(",", ", ")}
          onInput={(event) => setDraft(event.currentTarget.value)}
          onChange={(event) => {
            setDraft(undefined);
            choose(event.currentTarget.value.trim());
          }}
        />
      )}
    </label>
  );
};

const Fields = ({ shape, before }: Readonly<{ shape: Shape; before?: string }>) => (
  <div class="wishes">
    {Object.entries(shape).map(([name, schema]) => (
      <OptionField
        key={name}
        name={name}
        schema={schema}
        {...(before === undefined ? {} : { before })}
      />
    ))}
  </div>
);

const part = (shape: Shape, keep: (name: string, schema: z.ZodType) => boolean): Shape =>
  Object.fromEntries(Object.entries(shape).filter(([name, schema]) => keep(name, schema)));

/** What is asked, in a line; a click unfolds every choice. */
export const WhatIsAsked = ({ children }: Readonly<{ children?: ComponentChildren }>) => {
  const chosen = useShared();
  const shown = (name: string): string => {
    const schema = shared[name]!;
    const value = chosen[name] ?? String(defaultOf(schema) ?? "");
    return wordsOf(schema).labels?.[value] ?? value;
  };
  const confidence = shown("confidence");
  const share = Number(confidence);
  const others = Object.keys(chosen).filter((name) => !inSight.includes(name));
  const line = [
    shown("contrast"),
    shown("scale"),
    share > 0 && share < 1 ? `${confidenceWords(share)} intervals` : `confidence ${confidence}`,
    ...(chosen["where"] === undefined ? [] : [`only rows with ${chosen["where"]}`]),
    ...(chosen["correlation"] === undefined ? [] : [`correlation ${chosen["correlation"]}`]),
    ...others.map((name) => `${labelOf(name, shared[name]!)} ${shown(name)}`),
  ].join("; ");
  return (
    <details class="asked">
      <summary>What is asked: {line}</summary>
      <Fields shape={part(shared, (name) => inSight.includes(name))} />
      <p class="quiet">The same for every view, and part of the address.</p>
      {children}
      <details>
        <summary>What is assumed</summary>
        <Fields shape={part(shared, (name) => !inSight.includes(name))} />
      </details>
    </details>
  );
};

/** Fields of a question's own options, the seldom wanted ones folded. */
export const OwnOptions = ({
  id,
  except = [],
}: Readonly<{ id: QuestionId; except?: readonly string[] }>) => {
  const shape = useShape(id);
  if (shape === undefined) return null;
  const listed = part(
    shape,
    (name, schema) => !except.includes(name) && wordsOf(schema).operand === undefined,
  );
  const seldom = part(listed, (_name, schema) => wordsOf(schema).seldom === true);
  return (
    <>
      <Fields shape={part(listed, (name) => !(name in seldom))} before={`${id}-`} />
      {Object.keys(seldom).length === 0 ? null : (
        <details>
          <summary>Seldom wanted</summary>
          <Fields shape={seldom} before={`${id}-`} />
        </details>
      )}
    </>
  );
};
