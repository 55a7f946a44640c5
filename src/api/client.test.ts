import { expect, test } from "vitest";
import { ApiError, createClient, type FetchResponse, newId } from "./index.ts";

const id = "01890a5d-ac96-774b-bcce-b302099a8057";

function recordingFetch(answer: Partial<FetchResponse> & { body?: unknown }) {
  const calls: { address: string; method: string; headers: Record<string, string>; body: unknown }[] = [];
  const fetch = async (address: string, init: { method: string; headers: Record<string, string>; body?: unknown }) => {
    calls.push({ address, method: init.method, headers: init.headers, body: init.body });
    return {
      ok: true,
      status: 200,
      headers: { get: () => "application/json" },
      json: async () => answer.body,
      blob: async () => new Blob([]),
      ...answer,
    };
  };
  return { calls, fetch };
}

test("a call fills the path, encodes the query, sends JSON and the header that marks our own pages", async () => {
  const { calls, fetch } = recordingFetch({ body: { items: [], next: null, total: 0 } });
  const client = createClient({ fetch });
  const roster = await client.call("GET /api/groups/:groupId/roster", {
    params: { groupId: id },
    query: { search: "a&b", limit: 5, archived: undefined as never },
  });
  expect(roster.items).toEqual([]);
  await client.call("PUT /api/groups/:groupId", {
    params: { groupId: id },
    body: { name: "Thursday", startsOn: "2026-01-08", weeks: 10, eveningWeekday: 4 },
  });
  await client.call("GET /api/session");
  expect(calls.map((call) => `${call.method} ${call.address}`)).toEqual([
    `GET /api/groups/${id}/roster?search=a%26b&limit=5`,
    `PUT /api/groups/${id}`,
    "GET /api/session",
  ]);
  expect(calls[1]?.headers["x-spondee"]).toBe("1");
  expect(JSON.parse(calls[1]?.body as string)).toMatchObject({ weeks: 10 });
});

test("a refused call throws the problem document; an unreachable server is the code offline", async () => {
  const problem = { type: "urn:spondee:problem:not-found", title: "Not found", status: 404, code: "not-found" };
  const refused = createClient({ fetch: recordingFetch({ ok: false, status: 404, body: problem }).fetch });
  await expect(refused.call("GET /api/runners/:runnerId", { params: { runnerId: id } })).rejects.toMatchObject({
    problem,
  });
  const offline = createClient({
    fetch: async () => {
      throw new TypeError("failed to fetch");
    },
  });
  const error = await offline.call("GET /api/session").catch((caught: unknown) => caught);
  expect(error).toBeInstanceOf(ApiError);
  expect((error as ApiError).problem).toMatchObject({ status: 0, code: "offline" });
});

test("published: newId reproduces the version 7 example of RFC 9562 appendix A.6", () => {
  // unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0b01, 0x8C4DC0C0C07398F
  const bytes = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  expect(newId(0x017f22e279b0, bytes)).toBe("017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
});

test("ids made later sort later", () => {
  const random = new Uint8Array(10).fill(255);
  expect(newId(1_700_000_000_000, random) < newId(1_700_000_000_001, new Uint8Array(10))).toBe(true);
});
