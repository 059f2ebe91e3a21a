import { useMemo } from "preact/hooks";
import type { Failure } from "../../failure.js";
import { useAnswer, useApp, useAppState } from "../../app.js";
import {
  receivedProjection,
  type ProjectionWish,
  type SentProjection,
} from "../../jobs/prepare-projection-job.js";
import type { PreparedProjection } from "../../../projection/prepare-projection.js";

const received = new WeakMap<SentProjection, PreparedProjection>();

const receive = (sent: SentProjection): PreparedProjection => {
  const known = received.get(sent);
  if (known !== undefined) return known;
  const prepared = receivedProjection(sent);
  received.set(sent, prepared);
  return prepared;
};

/** The open table made ready for a goal; undefined while the worker learns from it. */
export const usePreparedProjection = ({
  goal,
  contrast,
}: ProjectionWish): Readonly<{
  prepared: PreparedProjection | undefined;
  failure: Failure | undefined;
}> => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const answer = useAnswer(
    `${check?.fingerprint ?? ""} ${check?.name ?? ""} ${goal} ${contrast}`,
    (tell) => app.worker.ask("prepareProjection", { goal, contrast }, { tell }),
    "Learning from the table",
  );
  const sent = answer.state === "done" ? answer.output : undefined;
  return {
    prepared: useMemo(() => (sent === undefined ? undefined : receive(sent)), [sent]),
    failure: answer.state === "failed" ? answer.failure : undefined,
  };
};
