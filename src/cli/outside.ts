// The real outside world: files, clock and stderr.
import { randomUUID } from "node:crypto";
import { open, readFile, rename, rm } from "node:fs/promises";
import { InputError, type Outside } from "./command.ts";

/** Larger files are refused before they are read. */
const MAX_INPUT_BYTES = 512 * 1024 * 1024;

export const realOutside: Outside = {
  async readFile(path) {
    const handle = await open(path, "r").catch((error: unknown) => {
      throw new InputError([unreadable(path, error)]);
    });
    try {
      const { size } = await handle.stat();
      if (size > MAX_INPUT_BYTES) throw new InputError([tooLarge(path, size)]);
      return await readFile(handle);
    } catch (error) {
      throw error instanceof InputError ? error : new InputError([unreadable(path, error)]);
    } finally {
      await handle.close();
    }
  },

  async writeFile(path, chunks) {
    const beside = `${path}.${randomUUID()}.part`;
    try {
      const handle = await open(beside, "wx");
      try {
        for (const chunk of chunks) await handle.writeFile(chunk);
        await handle.sync();
      } finally {
        await handle.close();
      }
      await rename(beside, path);
    } catch (error) {
      await rm(beside, { force: true });
      throw isSystemError(error) ? new InputError([unwritable(path, error)]) : error;
    }
  },

  say: (line) => process.stderr.write(`${line}\n`),
  print: (text) => process.stdout.write(text),
  untilAskedToStop: () =>
    new Promise((resolve) => {
      for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => resolve());
    }),
  environment: process.env,
  now: () => Date.now(),
};

function isSystemError(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && "code" in error && "syscall" in error;
}

const systemWords: Readonly<Record<string, string>> = {
  ENOENT: "nothing of that name",
  EISDIR: "a folder",
  EACCES: "no permission",
  ENOSPC: "a full disk",
};

function reasonOf(error: unknown): string {
  if (!isSystemError(error)) return String(error);
  const code = error.code ?? "";
  return systemWords[code] === undefined ? code || error.message : `${systemWords[code]} (${code})`;
}

function unreadable(path: string, error: unknown) {
  return {
    code: "file-unreadable",
    where: { file: path },
    got: reasonOf(error),
    expected: "a readable file",
    remedy: "Check the name and the permissions.",
  };
}

function unwritable(path: string, error: unknown) {
  return {
    code: "file-unwritable",
    where: { file: path },
    got: reasonOf(error),
    expected: "a place to write the file",
    remedy: "Check that the folder exists, is writable and has room.",
  };
}

function tooLarge(path: string, size: number) {
  return {
    code: "file-too-large",
    where: { file: path },
    got: `${size} bytes`,
    expected: `at most ${MAX_INPUT_BYTES} bytes`,
    remedy: "Cut the recording into shorter files.",
  };
}
