import { describe, expect, it } from "vitest";
import { tokenIn } from "./link.ts";

describe("the link's token", () => {
  it("is base64url of 20 to 200 characters in the fragment, and nothing else", () => {
    const token = "A0aRiI3LdwUAt0_uK8kq8djnZ2RY7zLHk1GdClDibus";
    expect(tokenIn(`#${token}`)).toBe(token);
    for (const hash of ["", "#", "#short", `#${token} `, `#<script>${token}`, `#${"a".repeat(201)}`, `#/${token}`])
      expect(tokenIn(hash), hash).toBeUndefined();
  });
});
