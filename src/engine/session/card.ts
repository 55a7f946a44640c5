// A session as a card to print or to paste: rows, the step length to aim for, drills, paces and cautions.
import {
  defaultUnits,
  type DisplayUnits,
  showBelt,
  showDistance,
  showDuration,
  showSpeed,
  showStepLength,
  showStepRate,
} from "../quantities/display.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { listeningCaution, standardCautions } from "../target/cautions.ts";
import type { PaceRow } from "../target/speed-curve.ts";
import { type Drill, starterDrills } from "./drill.ts";
import type { BlockKind, Session, SessionBlock } from "./session.ts";
import { describeStepLength, treadmillTable } from "./step-length.ts";

export interface CardRow {
  readonly what: string;
  readonly length: string;
  readonly beat: string;
  readonly note: string;
  /** The same rows in a row are told once. */
  readonly times: number;
}

export interface SessionCard {
  readonly title: string;
  readonly runner: string;
  readonly date: string;
  readonly rows: readonly CardRow[];
  /** "Steps about 4 cm shorter (…)." or empty. */
  readonly stepLength: string;
  readonly paces: readonly { readonly speed: string; readonly stepRate: string; readonly stepLength: string }[];
  readonly drills: readonly Drill[];
  /** Step length by belt speed and step rate, for a session on a treadmill. */
  readonly treadmill?: {
    readonly stepRates: readonly string[];
    readonly rows: readonly { readonly belt: string; readonly stepLengths: readonly string[] }[];
  };
  readonly cautions: readonly string[];
}

export interface CardOptions {
  readonly runner?: string;
  /** As it is to be read. */
  readonly date?: string;
  readonly targetSpm?: number;
  readonly baselineSpm?: number;
  readonly speedMps?: number;
  readonly paceTable?: readonly PaceRow[];
  /** Drills at hand, the coach's own among them. */
  readonly drills?: readonly Drill[];
  /** Belt speeds, as the belt shows them, for the treadmill table. */
  readonly beltSpeedsKmh?: readonly number[];
  readonly units?: DisplayUnits;
}

const blockWords: Record<BlockKind, string> = {
  "warm-up": "Warm up",
  "standing-drill": "On the spot",
  drill: "Drill",
  "cue-on": "Beat on",
  "cue-off": "Beat off",
  strides: "Strides",
  "cool-down": "Cool down",
};

export function makeCard(session: Session, options: CardOptions = {}): SessionCard {
  const units = options.units ?? defaultUnits;
  const drills = options.drills ?? starterDrills;
  const used = new Set(session.blocks.map((block) => block.drillId));
  const targetSpm = options.targetSpm ?? session.blocks.find((block) => block.kind === "cue-on")?.stepRateSpm;
  const stepLength = targetSpm === undefined ? "" : describeStepLength({ ...options, targetSpm }, units);
  return {
    title: session.title,
    runner: options.runner ?? "",
    date: options.date ?? "",
    rows: foldRepeats(session.blocks.map((block) => rowOf(block, drills, units))).map((row) => ({
      ...row,
      // Told once, above the rows.
      note: stepLength === "" ? row.note : row.note.replace(stepLength, "").trim(),
    })),
    stepLength,
    paces: (options.paceTable ?? []).map((row) => ({
      speed: showSpeed(row.speedMps, units),
      stepRate: showStepRate(row.stepRateSpm, units),
      stepLength: showStepLength(row.stepLengthM, units),
    })),
    drills: drills.filter((drill) => used.has(drill.id)),
    ...(options.beltSpeedsKmh === undefined || targetSpm === undefined
      ? {}
      : { treadmill: beltTable(options.beltSpeedsKmh, options.baselineSpm, targetSpm, units) }),
    cautions: [...standardCautions, listeningCaution],
  };
}

/** Baseline beside target, so that the shorter step is seen at a glance. */
function beltTable(
  speedsKmh: readonly number[],
  baselineSpm: number | undefined,
  targetSpm: number,
  units: DisplayUnits,
): NonNullable<SessionCard["treadmill"]> {
  const table = treadmillTable(speedsKmh, baselineSpm === undefined ? [targetSpm] : [baselineSpm, targetSpm]);
  return {
    stepRates: table.stepRatesSpm.map((rate) => showStepRate(rate, units)),
    rows: table.rows.map((row) => ({
      belt: showBelt(row.speedMps, units),
      stepLengths: row.stepLengthsM.map((length) => showStepLength(length, units)),
    })),
  };
}

function rowOf(block: SessionBlock, drills: readonly Drill[], units: DisplayUnits): CardRow {
  const drill = drills.find((entry) => entry.id === block.drillId);
  const length =
    block.distanceM !== undefined ? showDistance(block.distanceM) : showDuration(onACard(block.durationS ?? 0));
  const beat =
    block.stepRateSpm === undefined
      ? "no beat"
      : block.endStepRateSpm === undefined
        ? showStepRate(block.stepRateSpm, units)
        : `${showStepRate(block.stepRateSpm, units)} rising to ${showStepRate(block.endStepRateSpm, units)}`;
  return {
    what: drill === undefined ? blockWords[block.kind] : `${blockWords[block.kind]}: ${drill.name}`,
    length,
    beat,
    note: block.note ?? drill?.whatToFeel ?? "",
    times: 1,
  };
}

/** Nobody runs 3:51 by a card: above a minute to the nearest five seconds. The beat track stays exact. */
function onACard(durationS: number): number {
  return durationS > SECONDS_PER_MINUTE ? Math.round(durationS / 5) * 5 : durationS;
}

/** Six times 400 m and 200 m is two rows with "6 ×", not twelve rows. */
function foldRepeats(rows: readonly CardRow[]): CardRow[] {
  const folded: CardRow[] = [];
  let index = 0;
  while (index < rows.length) {
    const period = [1, 2, 3].find((size) => same(rows, index, index + size, size)) ?? 0;
    let times = 1;
    if (period > 0) while (same(rows, index, index + times * period, period)) times += 1;
    const size = Math.max(period, 1);
    folded.push(...rows.slice(index, index + size).map((row) => ({ ...row, times })));
    index += size * times;
  }
  return folded;
}

function same(rows: readonly CardRow[], a: number, b: number, size: number): boolean {
  if (b + size > rows.length) return false;
  return Array.from({ length: size }, (_, offset) => offset).every((offset) => {
    const one = rows[a + offset];
    const other = rows[b + offset];
    return (
      one !== undefined &&
      other !== undefined &&
      one.what === other.what &&
      one.length === other.length &&
      one.beat === other.beat
    );
  });
}

/** The card as plain text, ready to paste. */
export function cardText(card: SessionCard): string {
  const lines = [[card.title, card.runner, card.date].filter((part) => part !== "").join(" · "), ""];
  for (const row of card.rows) {
    const times = row.times > 1 ? `${row.times} × ` : "";
    lines.push(`${times}${row.what}, ${row.length}, ${row.beat}${row.note === "" ? "" : `. ${row.note}`}`);
  }
  if (card.stepLength !== "") lines.push("", card.stepLength);
  if (card.paces.length > 0)
    lines.push("", ...card.paces.map((pace) => `${pace.speed}: ${pace.stepRate}, steps of ${pace.stepLength}`));
  if (card.treadmill !== undefined) {
    lines.push("", `On the belt, steps at ${card.treadmill.stepRates.join(" and ")}:`);
    for (const row of card.treadmill.rows) lines.push(`${row.belt}: ${row.stepLengths.join(" and ")}`);
  }
  for (const drill of card.drills)
    lines.push("", `${drill.name}: ${drill.howTo} Feel: ${drill.whatToFeel} ${drill.cautions.join(" ")}`);
  lines.push("", ...card.cautions);
  return lines.join("\n");
}
