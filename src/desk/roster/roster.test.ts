import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { heightText, parseHeight } from "./height.ts";
import { acceptable, narrowed, serverFilter } from "./roster-filter.ts";
import type { RosterRow } from "../../api/index.ts";

describe("heights", () => {
  it("closed form: 5 ft 9 in is 69 × 0.0254 m", () => {
    for (const text of ["5 9", "5'9", "5'9\"", "5ft 9in"])
      expectClose(parseHeight(text, "ft-in") ?? 0, 69 * 0.0254, {
        rtol: 1e-12,
        because: "the inch is 25.4 mm by definition (1959)",
      });
    expect(heightText(69 * 0.0254, "ft-in")).toBe("5'9\"");
  });

  it("reads centimetres and metres, comma and point", () => {
    expect(parseHeight("172", "cm")).toBe(1.72);
    expect(parseHeight("1,72", "cm")).toBe(1.72);
    expect(parseHeight("tall", "cm")).toBeUndefined();
    expect(heightText(1.72, "cm")).toBe("172");
  });
});

describe("roster filters", () => {
  const row = (more: Partial<RosterRow>): RosterRow =>
    ({ baselineSpm: null, latestPain: null, advice: null, accepted: false, ...more }) as RosterRow;

  it("asks the server for what it can sort and filter itself", () => {
    expect(serverFilter("here", "  ada ", "name", true)).toEqual({
      sort: "name",
      descending: true,
      search: "ada",
      remote: false,
    });
    expect(serverFilter("everyone", "", "baseline", false)).toEqual({ sort: "baseline" });
  });

  it("narrows the rest here", () => {
    const rows = [
      row({ latestPain: 3 }),
      row({ latestPain: 0 }),
      row({ baselineSpm: { estimate: 156 } as RosterRow["baselineSpm"] }),
    ];
    expect(narrowed(rows, "pain")).toEqual([rows[0]]);
    expect(narrowed(rows, "need-baseline")).toEqual([rows[0], rows[1]]);
  });

  it("[T1] [T6] neither who has to be measured first nor who is to be referred is accepted in bulk", () => {
    const rows = [
      row({ advice: "change" }),
      row({ advice: "refer" }),
      row({ advice: "measure-first" }),
      row({ advice: "leave-alone", accepted: true }),
      row({}),
    ];
    expect(acceptable(rows)).toEqual([rows[0]]);
  });
});
