import { describe, expect, it } from "vitest";
import type { Plan, ProposalAnswer } from "../../api/index.ts";
import { whatNow } from "./what-now.ts";

type Advice = ProposalAnswer["computed"]["advice"];
const proposal = (computed: Advice, accepted?: Advice): ProposalAnswer =>
  ({
    computed: { advice: computed },
    accepted: accepted === undefined ? null : { advice: accepted },
  }) as unknown as ProposalAnswer;
const plan = (status: "running" | "stopped"): Plan =>
  ({ status, currentStageIndex: 0, stages: [{ stepRateSpm: 162 }] }) as unknown as Plan;

describe("what a runner is told to do next", () => {
  it("runs at the stage's step rate while the plan runs", () => {
    expect(whatNow(plan("running"), proposal("change", "change"))).toEqual({ kind: "run", stepRateSpm: 162 });
  });

  it("[D1] never sends someone on whose plan is stopped", () => {
    expect(whatNow(plan("stopped"), proposal("change", "change"))).toEqual({ kind: "refer" });
  });

  it("[T6] never sends someone on who is to be referred, accepted before or not", () => {
    expect(whatNow(undefined, proposal("refer"))).toEqual({ kind: "refer" });
    expect(whatNow(plan("running"), proposal("refer", "change"))).toEqual({ kind: "refer" });
  });

  it("[T2] says that nothing needs changing only where the coach agreed to leave alone", () => {
    expect(whatNow(undefined, proposal("leave-alone", "leave-alone"))).toEqual({ kind: "alone" });
    expect(whatNow(undefined, proposal("leave-alone"))).toEqual({ kind: "wait" });
  });

  it("[T1] asks for a measurement first, and waits for the coach otherwise", () => {
    expect(whatNow(undefined, proposal("measure-first"))).toEqual({ kind: "measure" });
    expect(whatNow(undefined, proposal("change"))).toEqual({ kind: "wait" });
    expect(whatNow(undefined, undefined)).toEqual({ kind: "wait" });
  });
});
