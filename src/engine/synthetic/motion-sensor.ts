// What a phone's accelerometer makes of a moving body: mounting, turning, sampling, noise, range, losses.
import { type Random } from "../quantities/random.ts";
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";
import { type MotionRecording } from "../recordings/recording.ts";
import { type BodyMotion } from "./body-motion.ts";

export interface MotionSensor {
  readonly sampleRateHz: number;
  readonly gravity: "included" | "removed";
  readonly noiseMps2: number;
  /** Range: larger values stop there. */
  readonly clipMps2: number;
  /** Standard deviation of the sampling instant over the sampling interval; the stamp tells the true instant. */
  readonly clockJitterShare: number;
  /** Share of samples delivered twice with the same stamp. */
  readonly duplicateShare: number;
  /** Losses of 0.1–0.6 s. */
  readonly dropOutsPerMinute: number;
  /** The seat slowly turns back and forth by this much. */
  readonly turningRad: number;
}

/** Samples the body's motion in the sensor's own, randomly mounted axes. Deterministic for a given random source. */
export function senseMotion(body: BodyMotion, sensor: MotionSensor, random: Random): MotionRecording {
  const mount = randomRotation(random);
  const turningPeriodS = 20 + 40 * random.next();
  const half = Math.max(1, Math.round(body.rateHz / sensor.sampleRateHz / 2));
  const last = body.x.length - 1;
  const durationS = last / body.rateHz;
  const times: number[] = [];
  const axes: [number[], number[], number[]] = [[], [], []];
  const lossPerSample = sensor.dropOutsPerMinute / 60 / sensor.sampleRateHz;
  let silentUntilS = -1;
  for (let i = 0; ; i += 1) {
    const nominalS = i / sensor.sampleRateHz;
    if (nominalS > durationS) break;
    const jitter = Math.max(-0.45, Math.min(0.45, sensor.clockJitterShare * random.normal()));
    const timeS = Math.max(0, nominalS + jitter / sensor.sampleRateHz);
    if (random.next() < lossPerSample) silentUntilS = timeS + 0.1 + 0.5 * random.next();
    // The sensor's own low-pass: mean over one sampling interval.
    const centre = Math.round(timeS * body.rateHz);
    let fx = 0;
    let fy = 0;
    let fz = 0;
    let count = 0;
    for (let s = Math.max(0, centre - half); s <= Math.min(last, centre + half); s += 1) {
      const tilt = body.tiltRad[s]!;
      const gx = body.x[s]!;
      const gz = body.z[s]! + (sensor.gravity === "included" ? STANDARD_GRAVITY_MPS2 : 0);
      fx += gx * Math.cos(tilt) - gz * Math.sin(tilt);
      fz += gx * Math.sin(tilt) + gz * Math.cos(tilt);
      fy += body.y[s]!;
      count += 1;
    }
    const turn = sensor.turningRad * Math.sin((2 * Math.PI * timeS) / turningPeriodS);
    const seat = [
      fx / count,
      (fy * Math.cos(turn) - fz * Math.sin(turn)) / count,
      (fy * Math.sin(turn) + fz * Math.cos(turn)) / count,
    ];
    const sample = mount.map((row) => {
      const value = row[0]! * seat[0]! + row[1]! * seat[1]! + row[2]! * seat[2]! + sensor.noiseMps2 * random.normal();
      return Math.max(-sensor.clipMps2, Math.min(sensor.clipMps2, value));
    });
    if (timeS < silentUntilS) continue;
    const copies = random.next() < sensor.duplicateShare ? 2 : 1;
    for (let c = 0; c < copies; c += 1) {
      times.push(timeS);
      axes.forEach((axis, a) => axis.push(sample[a]!));
    }
  }
  const firstS = times[0] ?? 0;
  return {
    kind: "motion",
    surface: "unknown",
    timeS: Float64Array.from(times, (time) => time - firstS),
    accelXMps2: Float64Array.from(axes[0]),
    accelYMps2: Float64Array.from(axes[1]),
    accelZMps2: Float64Array.from(axes[2]),
    gravity: sensor.gravity,
    cueBlocks: [],
  };
}

/** Uniform over all orientations: a random unit quaternion (Shoemake 1992). */
function randomRotation(random: Random): readonly (readonly number[])[] {
  const [u, v, w] = [random.next(), 2 * Math.PI * random.next(), 2 * Math.PI * random.next()];
  const a = Math.sqrt(1 - u) * Math.sin(v);
  const b = Math.sqrt(1 - u) * Math.cos(v);
  const c = Math.sqrt(u) * Math.sin(w);
  const d = Math.sqrt(u) * Math.cos(w);
  return [
    [1 - 2 * (b * b + c * c), 2 * (a * b - c * d), 2 * (a * c + b * d)],
    [2 * (a * b + c * d), 1 - 2 * (a * a + c * c), 2 * (b * c - a * d)],
    [2 * (a * c - b * d), 2 * (b * c + a * d), 1 - 2 * (a * a + b * b)],
  ];
}
