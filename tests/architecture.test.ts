// The drawn house and the built one are the same.
import { readdirSync, readFileSync, statSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";

const root = path.resolve(import.meta.dirname, "..");
const byName = (a: string, b: string): number => (a < b ? -1 : 1);
const folders = (place: string) =>
  readdirSync(path.join(root, place), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort(byName);

function files(place: string): string[] {
  return readdirSync(path.join(root, place), { withFileTypes: true }).flatMap((entry) => {
    const inside = path.join(place, entry.name);
    return entry.isDirectory() ? files(inside) : [inside];
  });
}

const drawn = (pattern: RegExp) =>
  [...readFileSync(path.join(root, "docs/architecture.md"), "utf8").matchAll(pattern)]
    .map((match) => match[1]!)
    .sort(byName);

describe("architecture", () => {
  test("docs/architecture.md names every part and no other", () => {
    expect(drawn(/^\| `src\/([a-z]+)` \|/gm)).toEqual(folders("src"));
  });

  test("docs/architecture.md names every folder of the engine and no other", () => {
    expect(drawn(/^\| `([a-z]+)` \|/gm)).toEqual(folders("src/engine"));
  });

  test("no source file is longer than 400 lines", () => {
    const long = ["src", "tests", "e2e", "scripts", "bench"]
      .flatMap(files)
      .filter((file) => /\.(ts|tsx|mjs|css)$/.test(file) && statSync(path.join(root, file)).isFile())
      .map((file) => ({ file, lines: readFileSync(path.join(root, file), "utf8").split("\n").length }))
      .filter(({ lines }) => lines > 401);
    expect(long).toEqual([]);
  });

  test("every text file ends its story here: no machine paths in what is shipped", () => {
    const strays = ["src", "tests", "e2e", "scripts", "bench", "docs", "oracles"]
      .flatMap(files)
      .filter((file) => /\.(ts|tsx|mjs|md|py|R|json|css|html)$/.test(file))
      .filter((file) => /\/work\/|\/root\//.test(readFileSync(path.join(root, file), "utf8")));
    expect(strays.filter((file) => file !== "tests/architecture.test.ts")).toEqual([]);
  });
});
