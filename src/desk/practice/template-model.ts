// A template as rows of a form: a repeat becomes neighbouring rows with the same number of times.
import type { Template, TemplateInput } from "../../api/index.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";

type Step = TemplateInput["steps"][number];
type Block = Extract<Step, { step: "block" }>;
export type RowKind = Block["kind"] | "main";
export type Unit = "s" | "min" | "m";

export interface StepRow {
  /** Of the form only: tells rows apart while they move. */
  readonly key: number;
  readonly kind: RowKind;
  readonly length: string;
  readonly unit: Unit;
  readonly beat: Block["beat"];
  readonly drillId: string;
  readonly note: string;
  readonly firstOnly: boolean;
  /** 1 for once. */
  readonly times: string;
}

export function newRow(key: number, kind: RowKind = "cue-on"): StepRow {
  return {
    key,
    kind,
    length: "5",
    unit: "min",
    beat: kind === "cue-on" || kind === "standing-drill" ? "target" : "none",
    drillId: "",
    note: "",
    firstOnly: false,
    times: "1",
  };
}

export function rowsOf(template: Pick<Template, "steps">): StepRow[] {
  let key = 0;
  const blockRow = (block: Block, times: number): StepRow => {
    const minutes = block.durationS !== undefined && block.durationS % SECONDS_PER_MINUTE === 0;
    return {
      key: (key += 1),
      kind: block.kind,
      length: String(
        block.distanceM ?? (minutes ? (block.durationS ?? 0) / SECONDS_PER_MINUTE : (block.durationS ?? 0)),
      ),
      unit: block.distanceM !== undefined ? "m" : minutes ? "min" : "s",
      beat: block.beat,
      drillId: block.drillId ?? "",
      note: block.note ?? "",
      firstOnly: block.firstOfStageOnly ?? false,
      times: String(times),
    };
  };
  return template.steps.flatMap((step) => {
    switch (step.step) {
      case "main":
        return [{ ...newRow((key += 1), "main"), length: "" }];
      case "repeat":
        return step.blocks.map((block) => blockRow(block, step.times));
      case "block":
        return [blockRow(step, 1)];
    }
  });
}

/** What is sent; a length that is no number becomes 0, which the server names as a problem of that part. */
export function stepsOf(rows: readonly StepRow[]): Step[] {
  const steps: Step[] = [];
  for (const row of rows) {
    const times = Math.max(1, Math.round(numberOf(row.times)) || 1);
    if (row.kind === "main") steps.push({ step: "main" });
    else if (times === 1) steps.push(blockOf(row, row.kind));
    else {
      const open = steps.at(-1);
      // Neighbours with the same number of times run in turn.
      if (open?.step === "repeat" && open.times === times) open.blocks.push(blockOf(row, row.kind));
      else steps.push({ step: "repeat", times, blocks: [blockOf(row, row.kind)] });
    }
  }
  return steps;
}

function blockOf(row: StepRow, kind: Block["kind"]): Block {
  const length = numberOf(row.length);
  return {
    step: "block",
    kind,
    ...(row.unit === "m"
      ? { distanceM: length }
      : { durationS: row.unit === "min" ? length * SECONDS_PER_MINUTE : length }),
    beat: row.beat,
    ...(row.drillId === "" || (kind !== "drill" && kind !== "standing-drill") ? {} : { drillId: row.drillId }),
    ...(row.note.trim() === "" ? {} : { note: row.note.trim() }),
    ...(row.firstOnly ? { firstOfStageOnly: true } : {}),
  };
}

function numberOf(text: string): number {
  const value = Number(text.replace(",", "."));
  return Number.isFinite(value) ? value : 0;
}

export function moved<T>(rows: readonly T[], index: number, by: -1 | 1): T[] {
  const to = index + by;
  const there = rows[to];
  const here = rows[index];
  if (here === undefined || there === undefined) return [...rows];
  return rows.map((row, place) => (place === index ? there : place === to ? here : row));
}
