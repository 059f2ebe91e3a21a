/** Protocols made equal in a quantity, as a comparison takes them. */
import { CallError } from "../errors.js";
import {
  equaliseProtocols,
  type AdjustableField,
  type EqualQuantity,
} from "../projection/equalise-protocols.js";
import type { Prescription } from "../protocol/prescription.js";

/** What a comparison is asked to make equal, and by changing what. */
export type MadeEqualOptions = Readonly<{
  equal?: EqualQuantity | undefined;
  adjust?: AdjustableField | undefined;
}>;

/**
 * The protocols that a comparison compares: the first as it stands, the others changed where that is asked for. As they
 * stand where they cannot be made equal; the comparison itself says why.
 *
 * @source none: `equaliseProtocols`
 */
export const madeEqual = (
  protocols: readonly Prescription[],
  { equal, adjust }: MadeEqualOptions,
): readonly Prescription[] => {
  if (equal === undefined || protocols.length < 2) return protocols;
  try {
    const options = { quantity: equal, ...(adjust === undefined ? {} : { adjust }) };
    return equaliseProtocols(protocols, options).protocols.map(({ after }) => after);
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
    return protocols;
  }
};
