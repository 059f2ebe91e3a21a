import { cautionsFor, nothingShown, type CautionsShown } from "../answers/session.js";
import { parsePrescription } from "../protocol/written-form.js";
import type { Prescription } from "../protocol/prescription.js";
import { cautionsToHtml } from "../tables/cautions-block.js";
import { show } from "./show-on.js";

let shown: CautionsShown = nothingShown;

/**
 * Nothing; shows the cautions that go with protocols: each in full the first time in a notebook, and
 * shortened after that.
 *
 * @param protocols as prescriptions, or as a coach writes them
 * @throws {CallError} where a written protocol cannot be read
 * @source none: an arrangement of `shared/cautions.json`, whose entries name their sources
 */
export const showCautions = (...protocols: readonly (Prescription | string)[]): void => {
  const block = cautionsFor(
    protocols.map((protocol) =>
      typeof protocol === "string" ? parsePrescription(protocol) : protocol,
    ),
    { shown, form: "short" },
  );
  shown = block.shown;
  show(
    "text/html",
    `<div style="border-left:4px solid #a32e3b;padding-left:1em;max-width:52em">${cautionsToHtml(block)}</div>`,
  );
};
