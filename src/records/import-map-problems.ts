/** Problems of an import map in plain words: zod says where a map differs, this says what to write there. */
import type { z } from "zod";
import type { Issue } from "../errors.js";
import { nearestWord } from "../protocol/nearest-word.js";

/** The keys by which a form of a rule or condition is known, with what follows each. */
const forms = {
  rule: {
    constant: '{ "constant": "text" }',
    column: '{ "column": "source column" }',
    text: '{ "text": "words with {source column} in them" }',
    first: '{ "first": [{ "when": …, "use": … }] }',
  },
  condition: {
    equals: '{ "column": "source column", "equals": "text" }',
    oneOf: '{ "column": "source column", "oneOf": ["text"] }',
    filled: '{ "column": "source column", "filled": true }',
    all: '{ "all": [conditions] }',
    any: '{ "any": [conditions] }',
    not: '{ "not": condition }',
  },
} as const;

type ZodIssue = z.core.$ZodIssue;
type Place = readonly PropertyKey[];

const valueAt = (json: unknown, place: Place): unknown =>
  place.reduce<unknown>(
    (value, key) =>
      typeof value === "object" && value !== null
        ? (value as Record<PropertyKey, unknown>)[key]
        : undefined,
    json,
  );

const keysOf = (value: unknown): readonly string[] =>
  typeof value === "object" && value !== null && !Array.isArray(value) ? Object.keys(value) : [];

const shown = (value: unknown): string => {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
};

const kinds: Readonly<Record<string, string>> = {
  string: "text in quotes",
  number: "a number without quotes",
  boolean: "true or false",
  array: "a list in square brackets",
  object: "an object in braces",
  record: "an object in braces",
};

/** A condition stands after `when` or `not`, or in a list named `all` or `any`; every other choice is a rule's. */
const formsAt = (place: Place): Readonly<Record<string, string>> => {
  const names = place.filter((key) => typeof key === "string");
  const last = names.at(-1);
  return last === "when" || last === "not" || last === "all" || last === "any"
    ? forms.condition
    : forms.rule;
};

/** The branch of a choice that the writer meant: the one whose own key is there, else none. */
const meantBranch = (
  issue: Extract<ZodIssue, { code: "invalid_union" }>,
  found: readonly string[],
  known: Readonly<Record<string, string>>,
): readonly ZodIssue[] | undefined => {
  const branch = Object.keys(known).findIndex((key) => found.includes(key));
  return branch === -1 ? undefined : issue.errors[branch];
};

const problem = (place: Place, value: unknown, message: string, mend: string): Issue => ({
  code: "map-form",
  severity: "error",
  line: 0,
  column: place.map(String).join(" › "),
  value: value === undefined ? "" : shown(value),
  message,
  mend,
});

/**
 * What is wrong with a map, place by place.
 *
 * @param issues from the schema's own check
 * @param json   the map as it was read
 * @returns one issue for each place, with what should stand there
 * @source none: wording of this project
 */
export const importMapProblems = (
  issues: readonly ZodIssue[],
  json: unknown,
  from: Place = [],
): readonly Issue[] =>
  issues.flatMap((issue): readonly Issue[] => {
    const place = [...from, ...issue.path];
    const value = valueAt(json, place);
    switch (issue.code) {
      case "invalid_union": {
        const known = formsAt(place);
        const found = keysOf(value);
        const meant = meantBranch(issue, found, known);
        if (meant !== undefined && meant.length > 0) return importMapProblems(meant, json, place);
        return [
          problem(
            place,
            value,
            known === forms.rule
              ? "this does not say where the value comes from"
              : "this is not a condition",
            `write one of ${Object.values(known).join(", ")}`,
          ),
        ];
      }
      case "unrecognized_keys":
        return issue.keys.map((key) => {
          const around = place.length === 0 ? topKeys : ruleKeys;
          const near = nearestWord(key, around);
          return problem(
            [...place, key],
            valueAt(json, [...place, key]),
            "no such word has a meaning here",
            near === undefined || near === key
              ? `take it out, or move it; words with a meaning are ${around.join(", ")}`
              : `did you mean ${near}?`,
          );
        });
      case "invalid_type": {
        const wanted = kinds[issue.expected] ?? issue.expected;
        return [
          problem(
            place,
            value,
            value === undefined ? "this is missing" : `this is not ${wanted}`,
            `write ${wanted}`,
          ),
        ];
      }
      case "invalid_value":
        return [
          problem(
            place,
            value,
            "this is none of the words known here",
            `write ${issue.values.map(shown).join(" or ")}`,
          ),
        ];
      case "too_small":
        return [problem(place, value, "this list is empty", "put at least one entry in it")];
      default:
        return [
          problem(place, value, issue.message, "compare with the map that ships with the data"),
        ];
    }
  });

const topKeys = ["title", "source", "licence", "setAside", "columns", "more", "arms"];
const ruleKeys = [
  ...new Set([
    ...Object.keys(forms.rule),
    ...Object.keys(forms.condition),
    ...["values", "otherwise", "factor", "offset", "when", "use", "prefix", "columns", "reason"],
  ]),
];
