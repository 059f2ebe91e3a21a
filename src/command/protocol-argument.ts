import { Option } from "commander";
import { CallError } from "../errors.js";
import { joints, type Joint, type Prescription } from "../protocol/prescription.js";
import { parsePrescription } from "../protocol/written-form.js";

/** What the help says of a prescription given as one word of the command line. */
export const protocolArgument =
  'a session in quotation marks, for example "4 x 30 s at 70 %, rest 60 s, 3/week, long"';

/** The option that names the joint a protocol is for. */
export const jointOption = (): Option =>
  new Option("--joint <joint>", "joint whose endurance curve is used").choices(joints);

/**
 * A prescription out of the command line, with the joint of `--joint` where it names none itself.
 *
 * @throws {CallError} pointing at the place in the text, or when text and option name two joints
 */
export const readProtocol = (text: string, joint: Joint | undefined): Prescription => {
  const p = parsePrescription(text);
  if (joint === undefined) return p;
  if (p.joint !== undefined && p.joint !== joint)
    throw new CallError({
      code: "two-joints",
      where: "--joint",
      needs: "the joint the prescription names, or a prescription that names none",
      got: `${joint} beside ${p.joint}`,
    });
  return { ...p, joint };
};
