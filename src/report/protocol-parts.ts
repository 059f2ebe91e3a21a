/** The protocols that a report was asked about: whether each can be held, what to expect of it, how they compare. */
import type { Answer, AnswerCautions } from "../answers/answer.js";
import { comparedProtocols } from "../answers/compare.js";
import type { ProjectionGoal } from "../answers/goal-fit.js";
import { gainContrast } from "./pooled-parts.js";
import type { Ask, NamedProtocol, PartMaker, PlacedAnswer } from "./report-part.js";

const anchor = (words: string): string => words.replaceAll(/[^\p{L}\p{N}]+/gu, "-").toLowerCase();

const inOrder = async <Item, Made>(
  items: readonly Item[],
  make: (item: Item) => Promise<Made>,
): Promise<readonly Made[]> => {
  const made: Made[] = [];
  for (const item of items) made.push(await make(item));
  return made;
};

const held = async (ask: Ask, protocols: readonly NamedProtocol[]) =>
  inOrder(protocols, async (protocol): Promise<PlacedAnswer> => {
    const answer = await ask("hold", protocol);
    const tables = answer.tables.map((table) => ({ ...table, place: table.place ?? "folded" }));
    return {
      id: `session-${anchor(protocol.name)}`,
      title: protocol.name,
      answer: { ...answer, tables },
    };
  });

/** Cautions of several answers as one block: each once, with the reason of whichever protocol gives one. */
const together = (blocks: readonly AnswerCautions[]): AnswerCautions | null => {
  const [first] = blocks;
  if (first === undefined) return null;
  const entries = new Map(
    blocks
      .flatMap((block) => block.entries)
      .toSorted((one, other) => Number("because" in one) - Number("because" in other))
      .map((entry) => [entry.id, entry]),
  );
  return { ...first, entries: [...entries.values()] };
};

/** Tables, figures and cautions that stand above are not said again. */
const notRepeated = (
  placed: readonly PlacedAnswer[],
  above: readonly PlacedAnswer[],
): readonly PlacedAnswer[] => {
  const said = new Set<string>();
  const isNew = (id: string): boolean => !said.has(id) && said.add(id).size > 0;
  const once = ({ tables, figures, ...answer }: Answer): Answer => ({
    ...answer,
    tables: tables.filter(({ id }) => isNew(`table ${id}`)),
    figures: figures.filter(({ data }) => isNew(`figure ${data.id}`)),
    cautions: null,
  });
  for (const { answer } of above) once(answer);
  return placed.map((one) => ({ ...one, answer: once(one.answer) }));
};

/** Each session to scale and whether it can be held, and the cautions in full, once. */
export const protocolsPart: PartMaker = async (ask, wishes) => {
  const protocols = wishes.protocols ?? [];
  const [first] = protocols;
  if (first === undefined) return undefined;
  const answers = await held(ask, protocols);
  const cautions = together(answers.flatMap(({ answer }) => answer.cautions ?? []));
  const { refusal } = (await ask("project", { ...first, contrast: await gainContrast(ask) })).data;
  return {
    id: "protocols",
    title: "Protocols",
    lead: [
      refusal?.code === "other-scale"
        ? `Nothing is projected: ${refusal.reason}.`
        : "What to expect of them stands below, goal by goal. Three ranges stand for each projection: the average over such studies, a new group's mean, and what a single person of such a group would measure. They are about groups and people like those studied, and a forecast for nobody.",
    ],
    answers: answers.map((one, place) => ({
      ...one,
      answer: { ...one.answer, cautions: place === answers.length - 1 ? cautions : null },
    })),
  };
};

/** What to expect of the protocols towards one goal, and how the first six compare. */
export const protocolGoalPart =
  (goal: ProjectionGoal): PartMaker =>
  async (ask, wishes) => {
    const protocols = wishes.protocols ?? [];
    if (protocols.length === 0) return undefined;
    const contrast = await gainContrast(ask);
    const { fewest, most } = comparedProtocols;
    const compared = protocols.slice(0, most);
    const id = `protocols-${anchor(goal)}`;
    const projected = await inOrder(protocols, async (protocol): Promise<PlacedAnswer> => ({
      id: `${id}-${anchor(protocol.name)}`,
      title: protocol.name,
      answer: await ask("project", { ...protocol, goal, contrast }),
    }));
    // Without a fit all say the same.
    const isFitted = projected.some(
      ({ answer }) => (answer.data as { basis?: unknown }).basis !== null,
    );
    const refusal = projected[0]?.answer.data.refusal;
    if (refusal?.code === "other-scale") return undefined;
    const title = `What to expect: ${goal}`;
    if (!isFitted)
      return { id, title, lead: [`Nothing is projected: ${refusal?.reason ?? ""}.`], answers: [] };
    const comparison: readonly PlacedAnswer[] =
      compared.length < fewest
        ? []
        : [
            {
              id: `${id}-compared`,
              title: "Compared",
              answer: await ask("compare", {
                protocols: compared.map(({ name, protocol }) => `${name}: ${protocol}`).join("\n"),
                goal,
                contrast,
              }),
            },
          ];
    return {
      id,
      title,
      lead:
        protocols.length > most && comparison.length > 0
          ? [`The first ${most} of ${protocols.length} protocols are compared.`]
          : [],
      answers: notRepeated([...comparison, ...projected], await held(ask, protocols)).map(
        ({ answer, ...place }) => ({
          ...place,
          // Every session stands above, to scale.
          answer: { ...answer, figures: answer.figures.filter(({ name }) => name !== "sessions") },
        }),
      ),
    };
  };
