// A file as UTF-8 text, or exit 3.
import { InputError, type Outside } from "./command.ts";

export async function readText(file: string, outside: Outside): Promise<string> {
  const bytes = await outside.readFile(file);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new InputError([
      {
        code: "not-utf-8",
        where: { file },
        got: "bytes that are not UTF-8",
        expected: "UTF-8 text",
        remedy: "Save the file as UTF-8.",
      },
    ]);
  }
}
