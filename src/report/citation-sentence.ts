import type { EvidenceSource } from "../answers/evidence.js";
import { holdbookVersion } from "../answers/version.js";

/**
 * How to cite an analysis: the tool with its version, and the file by its fingerprint, so that a reader
 * can tell whether they hold the same bytes.
 */
export const citationSentence = ({ name, fingerprint, invented }: EvidenceSource): string =>
  `Holdbook ${holdbookVersion}, analysis of ${name} (SHA-256 ${fingerprint})${invented ? "; the data are invented and are no evidence" : ""}.`;
