import { createHmac, timingSafeEqual } from "node:crypto";

/** One message of the Jupyter wire protocol, version 5.3. */
export type WireMessage = Readonly<{
  header: Readonly<{ msg_id: string; msg_type: string; session: string }>;
  parentId: string | undefined;
  content: Readonly<Record<string, unknown>>;
}>;

const delimiter = "<IDS|MSG>";

const signed = (key: string, frames: readonly (string | Uint8Array)[]): string => {
  const hmac = createHmac("sha256", key);
  for (const frame of frames) hmac.update(frame);
  return hmac.digest("hex");
};

/** The frames of a request: delimiter, signature over what follows, header, parent, metadata, content. */
export const requestFrames = (
  key: string,
  session: string,
  id: string,
  type: string,
  content: Readonly<Record<string, unknown>>,
): readonly string[] => {
  const header = {
    msg_id: id,
    msg_type: type,
    session,
    username: "notebook",
    // The protocol wants a moment here; nothing reads it, and a fixed one keeps runs the same.
    date: "2000-01-01T00:00:00.000Z",
    version: "5.3",
  };
  const parts = [header, {}, {}, content].map((part) => JSON.stringify(part));
  return [delimiter, signed(key, parts), ...parts];
};

/**
 * A message out of its frames.
 *
 * @throws {Error} where the signature is not that of the content
 */
export const readFrames = (key: string, frames: readonly Uint8Array[]): WireMessage => {
  const texts = frames.map((frame) => Buffer.from(frame).toString("utf8"));
  const start = texts.indexOf(delimiter);
  const [signature = "", header = "{}", parent = "{}", metadata = "{}", content = "{}"] =
    texts.slice(start + 1);
  const own = signed(key, [header, parent, metadata, content]);
  const matches =
    own.length === signature.length && timingSafeEqual(Buffer.from(own), Buffer.from(signature));
  if (start === -1 || !matches) throw new Error("a kernel's message is not signed with its key");
  return {
    header: JSON.parse(header) as WireMessage["header"],
    parentId: (JSON.parse(parent) as { msg_id?: string }).msg_id,
    content: JSON.parse(content) as WireMessage["content"],
  };
};
