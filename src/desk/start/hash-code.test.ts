import { describe, expect, it } from "vitest";
import { readHash } from "./hash-code.ts";

describe("codes behind the #", () => {
  it("tells signing in from setting up, and leaves other fragments alone", () => {
    expect(readHash("#code=abc-123")).toEqual({ kind: "sign-in", code: "abc-123" });
    expect(readHash("#setup=a%20b")).toEqual({ kind: "set-up", code: "a b" });
    expect(readHash("#page")).toBeUndefined();
    expect(readHash("")).toBeUndefined();
    expect(readHash("#code=")).toBeUndefined();
  });
});
