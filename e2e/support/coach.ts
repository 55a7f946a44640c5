// A coach who sets a server up over its own API: a group, one invented runner with a plan that has a session today, a link.
import { randomBytes, randomUUID } from "node:crypto";
import { newId } from "../../src/api/index.ts";

export interface Coach {
  readonly runnerId: string;
  readonly groupId: string;
  /** Calls with the coach's cookie; throws with the answer unless it is 2xx. */
  json(method: string, path: string, body?: unknown): Promise<unknown>;
  bytes(path: string): Promise<Uint8Array>;
  /** A new link for the runner: the path, "/run/#token", and its id. */
  link(): Promise<{ readonly address: string; readonly token: string; readonly id: string }>;
  /** A second runner of the group, with a link. */
  otherRunner(): Promise<{ readonly runnerId: string; readonly address: string }>;
}

/** `setupUrl`: as the server printed it on its first start; calls go to `origin`, which may change port afterwards. */
export async function setUpCoach(setupUrl: string, origin = new URL(setupUrl).origin): Promise<Coach> {
  let cookie = "";
  const request = async (method: string, path: string, body?: unknown): Promise<Response> => {
    const answer = await fetch(origin + path, {
      method,
      headers: { "x-spondee": "1", cookie, ...(body === undefined ? {} : { "content-type": "application/json" }) },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
    const set = answer.headers.getSetCookie()[0]?.split(";")[0];
    if (set !== undefined) cookie = set;
    return answer;
  };
  const json: Coach["json"] = async (method, path, body) => (await request(method, path, body)).json();
  const id = (): string => newId(Date.now(), randomBytes(10));
  const today = new Date().toISOString().slice(0, 10);

  const code = new URL(setupUrl).hash.replace("#setup=", "");
  await json("POST", "/api/setup", {
    code,
    signInName: "coach",
    displayName: "Coach Invented",
    password: "a long invented password",
  });
  const [groupId, runnerId] = [id(), id()];
  await json("PUT", `/api/groups/${groupId}`, {
    name: "Invented group",
    startsOn: today,
    weeks: 10,
    eveningWeekday: 3,
    timeZone: "UTC",
  });
  await json("PUT", `/api/groups/${groupId}/runners/${runnerId}`, { name: "Ada Invented" });
  for (const seconds of [37.6, 37.4])
    await json("PUT", `/api/runners/${runnerId}/counts/${id()}`, {
      way: "time-of-contacts",
      contacts: 50,
      seconds,
      feet: "one",
      first: "zero",
      lapLengthM: 400,
      lapTimeS: 150,
      measuredAt: new Date().toISOString(),
    });
  await json("PUT", `/api/runners/${runnerId}/proposal`, {});
  await json("POST", `/api/runners/${runnerId}/plan`, { startsOn: today, sessionsPerWeek: 6 });
  const linkFor = async (id: string) => {
    const linkId = randomUUID();
    const made = (await json("PUT", `/api/runners/${id}/links/${linkId}`, {})) as { address: string; token: string };
    return { ...made, id: linkId };
  };
  return {
    runnerId,
    groupId,
    json,
    bytes: async (path) => new Uint8Array(await (await request("GET", path)).arrayBuffer()),
    link: () => linkFor(runnerId),
    otherRunner: async () => {
      const otherId = id();
      await json("PUT", `/api/groups/${groupId}/runners/${otherId}`, { name: "Bo Invented" });
      return { runnerId: otherId, address: (await linkFor(otherId)).address };
    },
  };
}
