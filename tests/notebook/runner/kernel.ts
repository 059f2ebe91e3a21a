/** One TypeScript kernel as a child process, spoken to over the wire protocol; no Python is needed. */
import { spawn, type ChildProcess } from "node:child_process";
import { randomBytes } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Dealer, Subscriber } from "zeromq";
import { readFrames, requestFrames, type WireMessage } from "./wire-message.js";
import { linesOf, type Output } from "./notebook-file.js";

/** What running one cell gave. */
export type CellRun = Readonly<{
  outputs: readonly Output[];
  executionCount: number | null;
  failed: boolean;
}>;

export type Kernel = Readonly<{
  run: (code: string) => Promise<CellRun>;
  stop: () => Promise<void>;
}>;

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.on("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() =>
        typeof address === "object" && address !== null
          ? resolve(address.port)
          : reject(new Error("no free port")),
      );
    });
  });

const exitOf = (child: ChildProcess): Promise<number | null> =>
  new Promise((resolve) => {
    if (child.exitCode !== null) resolve(child.exitCode);
    else child.once("exit", (code) => resolve(code));
  });

const wait = (milliseconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, milliseconds));

/** Whether somebody listens on a port of this machine. */
const isOpen = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1");
    const end = (open: boolean) => (): void => {
      socket.destroy();
      resolve(open);
    };
    socket.once("connect", end(true));
    socket.once("error", end(false));
  });

/** A message of the kernel as an output of the file; undefined for those that leave none. */
const outputOf = ({ header, content }: WireMessage): Output | undefined => {
  switch (header.msg_type) {
    case "stream":
      return { output_type: "stream", name: content["name"], text: content["text"] };
    case "display_data":
    case "update_display_data":
      return { output_type: "display_data", data: content["data"], metadata: {} };
    case "execute_result":
      return {
        output_type: "execute_result",
        data: content["data"],
        execution_count: content["execution_count"],
        metadata: {},
      };
    case "error":
      return {
        output_type: "error",
        ename: content["ename"],
        evalue: content["evalue"],
        traceback: content["traceback"],
      };
    default:
      return undefined;
  }
};

/** Streams joined by name, and every text as a list of lines. */
const stored = (outputs: readonly Output[]): readonly Output[] => {
  const joined: Output[] = [];
  for (const output of outputs) {
    const before = joined.at(-1);
    if (output.output_type === "stream" && before?.["name"] === output["name"])
      joined[joined.length - 1] = {
        ...output,
        text: `${String(before?.["text"])}${String(output["text"])}`,
      };
    else joined.push(output);
  }
  const inLines = (value: unknown): unknown => (typeof value === "string" ? linesOf(value) : value);
  return joined.map((output) =>
    output.output_type === "stream"
      ? { ...output, text: inLines(output["text"]) }
      : typeof output["data"] === "object" && output["data"] !== null
        ? {
            ...output,
            data: Object.fromEntries(
              Object.entries(output["data"]).map(([type, value]) => [type, inLines(value)]),
            ),
          }
        : output,
  );
};

/** Longest a cell may take, and a kernel to answer for the first time. */
const patience = 240_000;

/** Complaints of a kernel that will never answer: asked while a socket was still being bound, or its port was taken meanwhile. */
const badStart = /EBUSY|EADDRINUSE/;

/**
 * Starts a kernel in a folder.
 *
 * The kernel listens on its first port before the others are bound, and one that is asked in between never
 * answers: it is asked when all five listen, and one that started badly all the same is started again.
 *
 * @param folder the notebook's own folder, from which its cells see files and packages
 */
export const startKernel = async (folder: string): Promise<Kernel> => {
  for (let attempt = 1; ; attempt++)
    try {
      return await startedKernel(folder);
    } catch (error) {
      if (attempt === 5 || !badStart.test(String(error))) throw error;
    }
};

const startedKernel = async (folder: string): Promise<Kernel> => {
  const ports = await Promise.all([1, 2, 3, 4, 5].map(freePort));
  const [shell = 0, iopub = 0, stdin = 0, control = 0, heartbeat = 0] = ports;
  const key = randomBytes(16).toString("hex");
  const session = randomBytes(8).toString("hex");
  const scratch = mkdtempSync(join(tmpdir(), "holdbook-kernel-"));
  const connection = join(scratch, "connection.json");
  writeFileSync(
    connection,
    JSON.stringify({
      transport: "tcp",
      ip: "127.0.0.1",
      shell_port: shell,
      iopub_port: iopub,
      stdin_port: stdin,
      control_port: control,
      hb_port: heartbeat,
      key,
      signature_scheme: "hmac-sha256",
      kernel_name: "tslab",
    }),
  );
  const program = createRequire(import.meta.url).resolve("tslab/bin/tslab");
  const child = spawn(process.execPath, [program, "kernel", "--config-path", connection], {
    cwd: folder,
    stdio: ["ignore", "ignore", "pipe"],
  });
  let complaints = "";
  child.stderr.on("data", (data: Buffer) => (complaints += data.toString()));
  const died = exitOf(child).then((code) => {
    throw new Error(`the kernel ended by itself (exit ${String(code)}): ${complaints}`);
  });
  died.catch(() => undefined);

  const start = performance.now();
  const allOpen = async (): Promise<boolean> =>
    (await Promise.all(ports.map(isOpen))).every(Boolean);
  while (child.exitCode === null && performance.now() - start < patience && !(await allOpen()))
    await wait(50);
  // A port listens a moment before its socket may be written to.
  await wait(300);

  const dealer = new Dealer({ linger: 0 });
  const subscriber = new Subscriber({ linger: 0 });
  dealer.connect(`tcp://127.0.0.1:${shell}`);
  subscriber.connect(`tcp://127.0.0.1:${iopub}`);
  subscriber.subscribe();

  const listeners = new Set<(message: WireMessage, from: "shell" | "iopub") => void>();
  const listen = async (socket: Dealer | Subscriber, from: "shell" | "iopub"): Promise<void> => {
    for await (const frames of socket) {
      const message = readFrames(key, frames);
      for (const listener of listeners) listener(message, from);
    }
  };
  const listening = Promise.all([listen(dealer, "shell"), listen(subscriber, "iopub")]);
  listening.catch(() => undefined);

  let count = 0;
  const ask = async (
    type: string,
    content: Readonly<Record<string, unknown>>,
    heard: (message: WireMessage, from: "shell" | "iopub") => boolean,
    limit: number,
  ): Promise<boolean> => {
    count += 1;
    const id = `${session}-${count}`;
    let listener: (message: WireMessage, from: "shell" | "iopub") => void = () => undefined;
    const answered = new Promise<boolean>((resolve) => {
      listener = (message, from) => {
        if (message.parentId === id && heard(message, from)) resolve(true);
      };
      listeners.add(listener);
    });
    await dealer.send([...requestFrames(key, session, id, type, content)]);
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<boolean>((resolve) => {
      timer = setTimeout(() => resolve(false), limit);
    });
    try {
      return await Promise.race([answered, late, died]);
    } finally {
      clearTimeout(timer);
      listeners.delete(listener);
    }
  };

  const stop = async (): Promise<void> => {
    child.kill("SIGTERM");
    await Promise.race([exitOf(child), wait(3000)]);
    if (child.exitCode === null) child.kill("SIGKILL");
    dealer.close();
    subscriber.close();
    rmSync(scratch, { recursive: true, force: true });
  };

  // What is published before a subscription has arrived is lost, so the question is asked until a
  // status comes back on that side.
  const ready = (): Promise<boolean> =>
    ask("kernel_info_request", {}, (_, from) => from === "iopub", 500);
  try {
    while (!(await ready()))
      if (performance.now() - start > patience || badStart.test(complaints))
        throw new Error(`the kernel did not answer: ${complaints}`);
  } catch (error) {
    await stop();
    throw error;
  }

  const run = async (code: string): Promise<CellRun> => {
    const outputs: Output[] = [];
    let executionCount: number | null = null;
    let failed = false;
    let replied = false;
    let idle = false;
    const done = await ask(
      "execute_request",
      {
        code,
        silent: false,
        store_history: true,
        user_expressions: {},
        allow_stdin: false,
        stop_on_error: true,
      },
      (message, from) => {
        if (from === "shell") {
          replied = true;
          failed ||= message.content["status"] !== "ok";
          const number = message.content["execution_count"];
          executionCount = typeof number === "number" ? number : null;
        } else if (message.header.msg_type === "status")
          idle ||= message.content["execution_state"] === "idle";
        else {
          const output = outputOf(message);
          if (output !== undefined) outputs.push(output);
          failed ||= output?.output_type === "error";
        }
        return replied && idle;
      },
      patience,
    );
    if (!done) throw new Error(`a cell took longer than ${patience / 1000} s:\n${code}`);
    return { outputs: stored(outputs), executionCount, failed };
  };
  return { run, stop };
};
