import { describe, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { smoothStretch } from "./kalman-smoother.ts";

describe("the smoother", () => {
  test("slow twin: the batch least-squares solution of the same model", () => {
    // Minimise Σ (z−p)²/σ² + Σ wᵀ Q⁻¹ w + prior over all states at once, by dense normal equations.
    const random = createRandom(11);
    const n = 14;
    const times = Float64Array.from({ length: n }, (_, i) => i * 1.3 + 0.2 * random.next());
    const z = Float64Array.from(times, (t) => 3 * t + 1.5 * random.normal());
    const [q, sigma] = [0.4, 1.5];
    const m = 2 * n;
    const A = Array.from({ length: m }, () => Array.from({ length: m + 1 }, () => 0));
    const add = (rows: [number, number][], weight: number, target: number): void => {
      for (const [i, a] of rows) {
        for (const [j, b] of rows) A[i]![j]! += weight * a * b;
        A[i]![m]! += weight * a * target;
      }
    };
    for (let i = 0; i < n; i += 1) add([[2 * i, 1]], 1 / sigma ** 2, z[i]!);
    add([[0, 1]], 1 / 1e6, z[0]!);
    add([[1, 1]], 1 / 16, 0);
    for (let i = 1; i < n; i += 1) {
      const t = times[i]! - times[i - 1]!;
      // Q = L Lᵀ whitened: Q⁻¹ as the sum of two squared rows.
      const [a, b, c] = [(q * t ** 3) / 3, (q * t * t) / 2, q * t];
      const p: [number, number][] = [
        [2 * i, 1],
        [2 * i - 2, -1],
        [2 * i - 1, -t],
      ];
      const v: [number, number][] = [
        [2 * i + 1, 1],
        [2 * i - 1, -1],
      ];
      add(p, 1 / a, 0);
      const l = b / a;
      const rest = new Map<number, number>();
      for (const [k, x] of v) rest.set(k, (rest.get(k) ?? 0) + x);
      for (const [k, x] of p) rest.set(k, (rest.get(k) ?? 0) - l * x);
      add([...rest], 1 / (c - b * l), 0);
    }
    for (let i = 0; i < m; i += 1) {
      for (let r = i + 1; r < m; r += 1) {
        const f = A[r]![i]! / A[i]![i]!;
        for (let k = i; k <= m; k += 1) A[r]![k]! -= f * A[i]![k]!;
      }
    }
    const x = Array.from({ length: m }, () => 0);
    for (let i = m - 1; i >= 0; i -= 1) {
      let sum = A[i]![m]!;
      for (let k = i + 1; k < m; k += 1) sum -= A[i]![k]! * x[k]!;
      x[i] = sum / A[i]![i]!;
    }
    const smooth = smoothStretch(
      { timeS: times, eastM: z, northM: new Float64Array(n), noiseM: new Float64Array(n).fill(sigma) },
      { q, gate: Infinity },
    );
    const because = "same optimum; elimination of a system conditioned near 1e6";
    expectClose(
      smooth.eastM,
      x.filter((_, i) => i % 2 === 0),
      { atol: 1e-7, because },
    );
    expectClose(
      smooth.eastMps,
      x.filter((_, i) => i % 2 === 1),
      { atol: 1e-7, because },
    );
  });

  test("simulation: the stated velocity error is the true one for noise of the model's own kind", () => {
    const random = createRandom(12);
    const n = 200;
    let [z2, count] = [0, 0];
    for (let round = 0; round < 150; round += 1) {
      const [east, north, truth] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
      const state = { p: 0, v: 3 };
      for (let i = 0; i < n; i += 1) {
        truth[i] = state.v;
        east[i] = state.p + 2 * random.normal();
        // Exact noise of one second: covariance [1/3 1/2; 1/2 1] times q.
        const [a, b] = [random.normal(), random.normal()];
        const root = Math.sqrt(0.3);
        state.p += state.v + root * (a / 2 + b / Math.sqrt(12));
        state.v += root * a;
      }
      const result = smoothStretch(
        {
          timeS: Float64Array.from(east, (_, i) => i),
          eastM: east,
          northM: north,
          noiseM: new Float64Array(n).fill(2),
        },
        { q: 0.3, gate: Infinity },
      );
      for (let i = 20; i < n - 20; i += 20) {
        z2 += ((result.eastMps[i]! - truth[i]!) / result.velocityErrorMps[i]!) ** 2;
        count += 1;
      }
    }
    // Mean of 1200 squared standard normals: 1 ± √(2/1200) = 0.041.
    expectClose(z2 / count, 1, { atol: 0.16, because: "four Monte Carlo standard errors" });
  });
});
