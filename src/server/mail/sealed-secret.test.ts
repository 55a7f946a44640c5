import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { createSecretBox } from "./sealed-secret.ts";

const folders: string[] = [];
function folder(): string {
  const made = mkdtempSync(join(tmpdir(), "spondee-seal-"));
  folders.push(made);
  return made;
}
afterEach(() => {
  for (const made of folders.splice(0)) rmSync(made, { recursive: true, force: true });
});

describe("a sealed secret", () => {
  it("opens again, from another program on the same folder too", () => {
    const dir = folder();
    const sealed = createSecretBox(dir).seal("pässword", "account 1");
    expect(createSecretBox(dir).open(sealed, "account 1")).toBe("pässword");
    expect(createSecretBox(dir).seal("pässword", "account 1")).not.toBe(sealed);
  });

  it("opens for nobody else, with no other key, and not when a bit changed", () => {
    const dir = folder();
    const sealed = createSecretBox(dir).seal("password", "account 1");
    expect(createSecretBox(dir).open(sealed, "account 2")).toBeUndefined();
    expect(createSecretBox(folder()).open(sealed, "account 1")).toBeUndefined();
    const bytes = Buffer.from(sealed, "base64url");
    bytes[bytes.length - 1]! ^= 1;
    expect(createSecretBox(dir).open(bytes.toString("base64url"), "account 1")).toBeUndefined();
    expect(createSecretBox(dir).open("short", "account 1")).toBeUndefined();
  });

  it("servers that share a key open each other's; a short key is refused", () => {
    const key = "a key that several servers share";
    const sealed = createSecretBox(folder(), key).seal("password", "account 1");
    expect(createSecretBox(folder(), key).open(sealed, "account 1")).toBe("password");
    expect(createSecretBox(folder(), `${key}.`).open(sealed, "account 1")).toBeUndefined();
    expect(() => createSecretBox(folder(), "short").seal("password", "account 1")).toThrow(RangeError);
  });
});
