// A session from a JSON file, checked field by field.
import type { BlockKind, Session, SessionBlock } from "../engine/session/session.ts";
import { InputError, type Outside } from "./command.ts";
import { readText } from "./text-file.ts";

const kinds: readonly BlockKind[] = ["warm-up", "standing-drill", "drill", "cue-on", "cue-off", "strides", "cool-down"];
const numberFields = ["durationS", "distanceM", "stepRateSpm", "endStepRateSpm", "cueShare", "speedMps"] as const;
const textFields = ["drillId", "note"] as const;

/** What the numbers mean is checked where the beat is made; here only that they are what they claim to be. */
export async function readSessionFile(file: string, outside: Outside): Promise<Session> {
  const text = await readText(file, outside);
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch (error) {
    throw wrong(file, undefined, error instanceof Error ? error.message : "broken JSON", "a session as JSON");
  }
  if (!isObject(parsed))
    throw wrong(file, undefined, JSON.stringify(parsed).slice(0, 40), "an object with title and blocks");
  const { id, title, blocks } = parsed;
  if (typeof title !== "string") throw wrong(file, "title", String(title), "a text");
  if (!Array.isArray(blocks)) throw wrong(file, "blocks", typeof blocks, "a list of blocks");
  return {
    id: typeof id === "string" ? id : "session",
    title,
    blocks: blocks.map((block: unknown, index) => readBlock(file, block, `blocks[${index}]`)),
  };
}

function readBlock(file: string, block: unknown, at: string): SessionBlock {
  if (!isObject(block)) throw wrong(file, at, typeof block, "an object");
  const kind = kinds.find((candidate) => candidate === block["kind"]);
  if (kind === undefined) throw wrong(file, `${at}.kind`, String(block["kind"]), kinds.join(", "));
  const read: Record<string, unknown> = { kind };
  for (const [name, value] of Object.entries(block)) {
    if (name === "kind" || value === null) continue;
    const isNumber = (numberFields as readonly string[]).includes(name);
    const isText = (textFields as readonly string[]).includes(name);
    if (!isNumber && !isText)
      throw wrong(file, `${at}.${name}`, "an unknown field", [...numberFields, ...textFields].join(", "));
    if (typeof value !== (isNumber ? "number" : "string")) {
      throw wrong(file, `${at}.${name}`, JSON.stringify(value).slice(0, 40), isNumber ? "a number" : "a text");
    }
    read[name] = value;
  }
  return read as unknown as SessionBlock;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function wrong(file: string, field: string | undefined, got: string, expected: string): InputError {
  const where = field === undefined ? { file } : { file, field };
  return new InputError([
    { code: "session-file", where, got, expected, remedy: "See docs/formats.md for the form of a session." },
  ]);
}
