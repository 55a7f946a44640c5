// The path's recursion against the plain maximum over all pairs of states.
import { expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { OTHER_STATE, rateOfState, RUN_COUNT, STANDING_STATE, STATE_COUNT } from "./movement-states.ts";
import { addEvidence, spreadScores } from "./rate-path.ts";

/** Price of going from one state to the next, as written in docs/method/step-rate.md. */
function price(from: number, to: number, hopS: number): number {
  const kind = (state: number): string =>
    state === OTHER_STATE ? "other" : state === STANDING_STATE ? "standing" : state < RUN_COUNT ? "running" : "walking";
  if (kind(from) === "other" || kind(to) === "other") return from === to ? 0 : 3;
  if (kind(from) !== kind(to)) return 4;
  if (kind(from) === "standing") return 0;
  return Math.min(8, (0.6 / hopS) * Math.abs(rateOfState(from) - rateOfState(to)));
}

test.each([0.5, 1])("slow twin: spreadScores is the best of all pairs, hop %s s", (hopS) => {
  const random = createRandom(4);
  for (let trial = 0; trial < 5; trial += 1) {
    const previous = Float64Array.from({ length: STATE_COUNT }, () => -30 * random.next());
    const next = new Float64Array(STATE_COUNT);
    spreadScores(previous, next, hopS);
    const wanted = Array.from({ length: STATE_COUNT }, (_, to) => {
      let best = -Infinity;
      for (let from = 0; from < STATE_COUNT; from += 1) best = Math.max(best, previous[from]! - price(from, to, hopS));
      return best;
    });
    expectClose(next, wanted, { atol: 1e-9, because: "the same maximum, drift prices added one by one" });
  }
});

test("closed form: evidence is added and the best state stands at 0", () => {
  const scores = Float64Array.from({ length: STATE_COUNT }, () => -1);
  const evidence = new Float64Array(STATE_COUNT);
  evidence[7] = 5;
  addEvidence(scores, evidence);
  expect(scores[7]).toBe(0);
  expect(scores[8]).toBe(-5);
});
