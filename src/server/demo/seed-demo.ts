// The invented demo group, five weeks and a half into a programme. Everything in it went through the doors that real data
// goes through: every number on the screens is computed.
import type { AccountRow } from "../../store/index.ts";
import { type Clock, freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { dayOf, plusDays } from "../use-cases/dates.ts";
import { decideWeek } from "../use-cases/decide-week.ts";
import { freshenGroup } from "../use-cases/runner-state.ts";
import { readWeek } from "../use-cases/week.ts";
import { writeChange } from "../use-cases/write-change.ts";
import { demoPeople } from "./demo-people.ts";
import { type DemoPart, type DemoScene, firstWeek, laterWeek } from "./demo-runner.ts";

const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const FULL_WEEKS = 5;
/** Today lies this far into the week that is not decided yet. */
const DAYS_INTO_WEEK = 3;

/** Answers the id of the group. Takes some seconds: about a hundred recordings are made, read and compared. */
export async function seedDemoGroup(deps: Deps, account: Pick<AccountRow, "id" | "displayName">): Promise<string> {
  const today = dayOf(instant(deps.clock), "UTC");
  const startsOn = plusDays(today, -(7 * FULL_WEEKS + DAYS_INTO_WEEK));
  const clock = pastClock(deps.clock);
  const scene: DemoScene = { deps: { ...deps, clock }, clock, account, groupId: freshId(deps.clock), startsOn };
  clock.set(`${plusDays(startsOn, -8)}T19:00:00Z`);
  await addGroup(scene);
  const parts = demoPeople.map(
    (person, index): DemoPart => ({ person, runnerId: freshId(clock), seed: 1000 * (index + 1) }),
  );
  for (const part of parts) await firstWeek(scene, part);
  for (let week = 0; week < FULL_WEEKS; week += 1) {
    const weekStartsOn = plusDays(startsOn, 7 * week);
    for (const part of parts)
      await laterWeek(scene, part, {
        startsOn: weekStartsOn,
        until: plusDays(weekStartsOn, 7),
        index: week,
        isThis: false,
      });
    await confirmWeek(scene, weekStartsOn, parts);
  }
  for (const part of parts)
    await laterWeek(scene, part, {
      startsOn: plusDays(startsOn, 7 * FULL_WEEKS),
      until: today,
      index: FULL_WEEKS,
      isThis: true,
    });
  await freshenGroup(deps, scene.groupId);
  return scene.groupId;
}

async function addGroup(scene: DemoScene): Promise<void> {
  const { deps, clock, account, groupId, startsOn } = scene;
  const eveningWeekday = ((new Date(`${startsOn}T00:00:00Z`).getUTCDay() + 6) % 7) + 1;
  await writeChange(deps, { groupId, account }, "group added", async (write) => {
    await write.put("coachGroup", {
      id: groupId,
      name: `Lanternfield ${WEEKDAYS[eveningWeekday - 1] ?? ""} group (invented)`,
      startsOn,
      weeks: 10,
      eveningWeekday,
      timeZone: "UTC",
      holidaysJson: "[]",
      raceDate: null,
      note: "Nobody in this group exists. It shows what Spondee does; remove it in one click.",
      archived: 0,
      invented: 1,
      settingsJson: "{}",
      createdAt: instant(clock),
    });
    await write.put("member", { id: `${groupId}/${account.id}`, groupId, accountId: account.id, role: "coach" });
  });
}

/** The coach of the demo does what the rules propose, and overrules them for one runner. */
async function confirmWeek(scene: DemoScene, weekStartsOn: string, parts: readonly DemoPart[]): Promise<void> {
  const { deps, clock, account, groupId } = scene;
  clock.set(`${plusDays(weekStartsOn, 6)}T20:00:00Z`);
  const week = await readWeek(deps, groupId, weekStartsOn);
  const wishes = week.runners.flatMap(({ runner, proposed }) => {
    if (proposed === null) return [];
    const because = parts.find((part) => part.runnerId === runner.id)?.person.movedOnBecause;
    const own =
      because === undefined ? { decision: proposed.proposedAction } : { decision: "move-on" as const, reason: because };
    return [{ id: freshId(clock), runnerId: runner.id, ...own }];
  });
  const caller = { account: { ...account, ...nobody }, groupId, role: "coach" as const };
  if (wishes.length > 0) await decideWeek(deps, caller, weekStartsOn, wishes);
}

/** The rest of an account row, which deciding does not look at. */
const nobody = { signInName: "", passwordHash: null, owner: 0, disabled: 0, createdAt: "" };

/** A clock that is set by hand and moves a second a look; randomness is the real clock's. */
function pastClock(real: Clock): Clock & { set(at: string): void } {
  let nowMs = 0;
  return {
    now: () => new Date((nowMs += 1000)),
    randomBytes: (count) => real.randomBytes(count),
    set: (at) => {
      nowMs = Date.parse(at);
    },
  };
}
