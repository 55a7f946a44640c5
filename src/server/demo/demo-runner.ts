// One invented runner's weeks, through the same doors as a real one's.
import { Readable } from "node:stream";
import type { Plan } from "../../engine/plan/plan.ts";
import { type AccountRow, GroupReader, markRunnersStale, RunnerReader } from "../../store/index.ts";
import type { Clock } from "../app/clock.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { acceptProposal } from "../use-cases/accept-proposal.ts";
import { checkedCount } from "../use-cases/check-count.ts";
import { plusDays } from "../use-cases/dates.ts";
import { formNoteRow, painRow, reportRow } from "../use-cases/observation-rows.ts";
import { stageOn } from "../use-cases/plan-row.ts";
import { json } from "../use-cases/present.ts";
import { proposalSource } from "../use-cases/proposal.ts";
import { runnerRow } from "../use-cases/runner-row.ts";
import { runnerState } from "../use-cases/runner-state.ts";
import { storeUpload } from "../use-cases/store-recording.ts";
import { writeChange } from "../use-cases/write-change.ts";
import type { DemoRunner } from "./demo-people.ts";
import { inventRun } from "./invent-run.ts";

export interface DemoScene {
  readonly deps: Deps;
  readonly clock: Clock & { set(at: string): void };
  readonly account: Pick<AccountRow, "id" | "displayName">;
  readonly groupId: string;
  readonly startsOn: string;
}

export interface DemoPart {
  readonly person: DemoRunner;
  readonly runnerId: string;
  readonly seed: number;
}

const RUN_MINUTES = 22;
const END_MINUTES = 5;
/** A beat takes most of the difference between days away. */
const BEAT_DAY_SD = 0.002;
const BEFORE_DAYS = [-6, -4, -2];

const by = (scene: DemoScene) => ({ groupId: scene.groupId, account: scene.account });

/** Runs before the programme, the first evening's counts, and the coach's answer that night. */
export async function firstWeek(scene: DemoScene, part: DemoPart): Promise<void> {
  const { deps, clock, startsOn } = scene;
  const { person, runnerId, seed } = part;
  clock.set(`${plusDays(startsOn, -7)}T19:00:00Z`);
  const input = {
    name: person.name,
    notes: `Invented for the demo: ${person.situation}.`,
    ...(person.heightM === undefined ? {} : { heightM: person.heightM }),
    ...(person.history === undefined ? {} : { history: [...person.history] }),
    ...(person.remote === undefined ? {} : { remote: person.remote }),
  };
  await writeChange(deps, by(scene), "runner added", (write) =>
    write.put("runner", runnerRow(runnerId, scene.groupId, input, instant(clock))),
  );
  if (person.barelyMeasured !== true)
    for (const [index, day] of BEFORE_DAYS.entries()) {
      const { stepRateSpm, speedMps } = person;
      await sendRun(scene, part, plusDays(startsOn, day), { seed: seed + index, stepRateSpm, speedMps });
    }
  clock.set(`${startsOn}T18:10:00Z`);
  await countEvening(scene, part);
  if (person.barelyMeasured === true || person.undecided === true) return;
  clock.set(`${startsOn}T21:00:00Z`);
  const runner = await new RunnerReader(deps.store.db).one(runnerId);
  const group = await new GroupReader(deps.store.db).row(scene.groupId);
  if (runner === undefined || group === undefined) throw new TypeError("firstWeek: the demo runner is not there");
  const source = await proposalSource(deps.store.db, runner, await runnerState(deps, runnerId), clock.now().getTime());
  const { id, displayName: name } = scene.account;
  await writeChange(deps, by(scene), "proposal accepted", (write) =>
    acceptProposal(write, { source, group, decision: {}, today: startsOn, at: instant(clock), by: { id, name } }),
  );
}

/** A counted minute, twice, as the runner's true rate gives it; one foot. */
async function countEvening(scene: DemoScene, part: DemoPart): Promise<void> {
  const { deps, clock } = scene;
  const { person, runnerId } = part;
  const seconds = person.barelyMeasured === true ? 15 : 60;
  const contacts = Math.round((person.stepRateSpm / 2) * (seconds / 60));
  const counts = person.barelyMeasured === true ? [contacts] : [contacts, contacts + (part.seed % 2)];
  await writeChange(deps, by(scene), "counts stored", async (write) => {
    for (const value of counts) {
      const count = checkedCount(
        freshId(clock),
        runnerId,
        {
          way: "contacts-in-time",
          contacts: value,
          seconds,
          feet: "one",
          lapLengthM: 400,
          lapTimeS: Math.round(400 / person.speedMps),
          surface: "outdoor",
          measuredAt: instant(clock),
        },
        "coach",
      );
      if (!count.ok) throw new TypeError("countEvening: an invented count was refused");
      await write.put("footCount", count.value);
    }
    if (person.formSigns !== undefined)
      await write.put(
        "formNote",
        formNoteRow(freshId(clock), runnerId, { at: instant(clock), when: "late", signs: [...person.formSigns] }),
      );
    if (person.remote !== true)
      await write.put("attendance", {
        id: `${runnerId}/${scene.startsOn}`,
        groupId: scene.groupId,
        runnerId,
        onDate: scene.startsOn,
        presence: "present",
      });
  });
}

export interface DemoWeek {
  readonly startsOn: string;
  /** The day after its last. */
  readonly until: string;
  readonly index: number;
  readonly isThis: boolean;
}

/** One measured run, the sessions reported as done, and what hurts, in the days of a week up to `until`. */
export async function laterWeek(scene: DemoScene, part: DemoPart, week: DemoWeek): Promise<void> {
  const { deps, clock } = scene;
  const { person, runnerId } = part;
  const row = await new RunnerReader(deps.store.db).plan(runnerId);
  if (row === undefined || (week.isThis && person.silentThisWeek === true)) return;
  const plan = json<Plan>(row.planJson);
  const done = plan.stages
    .flatMap((stage) => stage.sessions)
    .filter((entry) => entry.date >= week.startsOn && entry.date < week.until);
  for (const [index, entry] of done.entries()) {
    clock.set(`${entry.date}T18:45:00Z`);
    await deps.store.write(async (trx) => {
      const report = { at: instant(clock), sessionId: entry.session.id, effortRating: 3 + ((part.seed + index) % 3) };
      await trx
        .insertInto("report")
        .values(reportRow(freshId(clock), runnerId, report))
        .execute();
      await markRunnersStale(trx, [runnerId]);
    });
  }
  const days = done.slice(week.isThis ? -2 : -1).map((entry) => entry.date);
  if (days.length === 0) days.push(plusDays(week.startsOn, 1));
  for (const day of days) await cuedRun(scene, part, plan, day, week.index);
  await answerPain(scene, part, week);
}

/** Asked every week: nothing hurts, or what hurts this week. Calf and Achilles are asked about by name where it matters. */
async function answerPain(scene: DemoScene, part: DemoPart, week: DemoWeek): Promise<void> {
  const { deps, clock } = scene;
  const { person, runnerId } = part;
  clock.set(`${plusDays(week.until, -1)}T20:30:00Z`);
  const at = instant(clock);
  const now = week.isThis ? person.pain : undefined;
  const { score, place, note } = now ?? {
    score: 0,
    place: person.history === undefined ? "" : "calf and Achilles",
    note: "",
  };
  const signs = now?.signs === undefined ? {} : { signs: [...now.signs] };
  const author = { groupId: scene.groupId, account: null, byName: "the runner" };
  await writeChange(deps, author, "pain reported by the runner", (write) =>
    write.put("pain", painRow(freshId(clock), runnerId, { score, place, note, at, ...signs }, "runner")),
  );
}

async function cuedRun(scene: DemoScene, part: DemoPart, plan: Plan, day: string, weekIndex: number): Promise<void> {
  const { person, seed } = part;
  const stage = stageOn(plan, day);
  if (stage === undefined) return;
  const speedMps = person.speedMps * (person.speedFactor ?? 1);
  const rise = stage.stepRateSpm - person.stepRateSpm;
  const dayNumber = Math.round(Date.parse(day) / 86_400_000);
  const kept = person.keepsWithoutBeat;
  // Whoever runs faster without changing slides along their own line.
  const follows = weekIndex >= (person.stopsFollowingInWeek ?? Infinity) ? 0.2 : person.follows;
  const slide = follows < 0.5 ? (person.speedFactor ?? 1) ** 0.15 : 1;
  await sendRun(scene, part, day, {
    seed: seed + dayNumber,
    speedMps,
    stepRateSpm: person.stepRateSpm * slide + follows * rise,
    ...(person.lateDropShare === undefined ? {} : { lateDropShare: person.lateDropShare }),
    ...(kept === undefined ? {} : { endStepRateSpm: person.stepRateSpm + kept * rise, endMinutes: END_MINUTES }),
    targetSpm: stage.stepRateSpm,
    daySd: BEAT_DAY_SD,
  });
}

async function sendRun(
  scene: DemoScene,
  part: DemoPart,
  day: string,
  wish: Omit<Parameters<typeof inventRun>[0], "startedAtMs" | "minutes"> & { readonly targetSpm?: number },
): Promise<void> {
  const { clock, deps, groupId, account } = scene;
  const startedAt = `${day}T17:30:00Z`;
  clock.set(`${day}T19:00:00Z`);
  const bytes = inventRun({ ...wish, startedAtMs: Date.parse(startedAt), minutes: RUN_MINUTES });
  const { targetSpm } = wish;
  const switchS = 60 * (RUN_MINUTES - (wish.endMinutes ?? 0));
  const cueBlocks =
    targetSpm === undefined
      ? []
      : [
          { startS: 0, endS: switchS, cue: "on" as const, targetSpm },
          ...(wish.endMinutes === undefined ? [] : [{ startS: switchS, endS: 60 * RUN_MINUTES, cue: "off" as const }]),
        ];
  await storeUpload(
    deps,
    { groupId, account },
    {
      runnerId: part.runnerId,
      recordingId: freshId(clock),
      fileName: `run-${day}.gpx`,
      phase: targetSpm === undefined ? "before" : "during",
      surface: "outdoor",
      by: part.person.remote === true ? "runner" : "coach",
      cueBlocks,
    },
    Readable.from(bytes),
    bytes.length,
  );
}
