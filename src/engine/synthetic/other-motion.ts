// Movements that are no run, as a worn phone feels them: a rider's thigh, a car, a shaken hand, arms swung while standing,
// a rower's seat, a phone in use; and feet that move without going anywhere. Each is made of its own mechanics, in the world
// frame, then turned by a random fixed orientation.
import { createRandom, type Random } from "../quantities/random.ts";
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";
import { type MotionRecording } from "../recordings/recording.ts";

export type OtherMovement =
  | "cycling"
  | "car"
  | "shaking"
  | "arm-swing"
  | "rowing"
  | "handling"
  | "stepping-on-the-spot"
  | "rope-skipping"
  | "jumping-jacks"
  | "stairs";

export interface OtherMotionOptions {
  readonly seed: number;
  readonly movement: OtherMovement;
  /**
   * Its repeats a minute: pedal turns, shakes, swings, strokes, steps, jumps (two to a jumping jack); of the car, the main
   * rate of its body on the springs; of a handled phone, how often it is taken up.
   */
  readonly perMinute: number;
  readonly durationS: number;
  /** Default 50. */
  readonly sampleRateHz?: number;
}

type Vector = readonly [number, number, number];

/** A recording with gravity; the same options give the same recording. */
export function makeOtherMotion(options: OtherMotionOptions): MotionRecording {
  const { seed, movement, perMinute, durationS, sampleRateHz = 50 } = options;
  const random = createRandom(seed);
  const n = Math.floor(durationS * sampleRateHz);
  const move = MOVEMENTS[movement](perMinute / 60, random);
  const turn = randomRotation(random);
  const timeS = Float64Array.from({ length: n }, (_, i) => i / sampleRateHz);
  const [x, y, z] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i += 1) {
    const [ax, ay, az] = move(timeS[i]!, 1 / sampleRateHz);
    const felt = [ax, ay, az + STANDARD_GRAVITY_MPS2] as const;
    const turned = turn.map((row) => row[0] * felt[0] + row[1] * felt[1] + row[2] * felt[2]);
    x[i] = turned[0]! + 0.15 * random.normal();
    y[i] = turned[1]! + 0.15 * random.normal();
    z[i] = turned[2]! + 0.15 * random.normal();
  }
  return {
    kind: "motion",
    surface: "unknown",
    timeS,
    accelXMps2: x,
    accelYMps2: y,
    accelZMps2: z,
    gravity: "included",
    cueBlocks: [],
  };
}

type Mover = (timeS: number, stepS: number) => Vector;

const MOVEMENTS: Readonly<Record<OtherMovement, (hz: number, random: Random) => Mover>> = {
  /** The knee goes round the crank: the thigh rocks at the pedals' rate, smoothly; the road shakes the rest. */
  cycling(hz, random) {
    const rock = 0.35 + 0.15 * random.next();
    const reach = 0.15 + 0.15 * random.next();
    const road = roughness(random, 1 + 1.5 * random.next(), 0.6);
    const phaseOf = wander(hz, 0.03, random);
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      const rate = 2 * Math.PI * hz;
      const tilt = rock * Math.sin(phase);
      const along = -rock * rate ** 2 * reach * Math.sin(phase);
      const inward = reach * (rock * rate * Math.cos(phase)) ** 2;
      const [rx, ry, rz] = road();
      return [
        along * Math.cos(tilt) + STANDARD_GRAVITY_MPS2 * Math.sin(tilt) + rx,
        ry + 0.3 * Math.sin(phase + 1),
        inward - STANDARD_GRAVITY_MPS2 * (1 - Math.cos(tilt)) + rz,
      ];
    };
  },
  /** A body on springs, kicked by the road, and an engine far above. */
  car(hz, random) {
    const spring = roughness(random, 0.6 + 0.8 * random.next(), 0.9);
    const engineHz = 15 + 30 * random.next();
    let at = 0;
    let speed = 0;
    return (timeS, stepS) => {
      const w = 2 * Math.PI * hz;
      const [rx, ry, kick] = spring();
      const acceleration = -w * w * at - 2 * 0.25 * w * speed + 3 * kick;
      speed += acceleration * stepS;
      at += speed * stepS;
      const engine = 0.3 * Math.sin(2 * Math.PI * engineHz * timeS);
      return [rx * 0.4, ry * 0.4 + engine, acceleration + engine];
    };
  },
  /** A hand to and fro along one line, nearly a pure tone. */
  shaking(hz, random) {
    const amplitudeM = 0.03 + 0.05 * random.next();
    const phaseOf = wander(hz, 0.06, random);
    const second = 0.05 + 0.15 * random.next();
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      const w2 = (2 * Math.PI * hz) ** 2;
      return [-amplitudeM * w2 * (Math.sin(phase) + second * Math.sin(2 * phase)), 0.5 * Math.sin(phase), 0];
    };
  },
  /** An arm as a pendulum at a wrist, feet on the ground. */
  "arm-swing"(hz, random) {
    const swing = 0.35 + 0.4 * random.next();
    const lengthM = 0.6;
    const phaseOf = wander(hz, 0.04, random);
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      const w = 2 * Math.PI * hz;
      const angle = swing * Math.sin(phase);
      return [
        -lengthM * swing * w * w * Math.sin(phase) + STANDARD_GRAVITY_MPS2 * Math.sin(angle),
        0,
        lengthM * (swing * w * Math.cos(phase)) ** 2 - STANDARD_GRAVITY_MPS2 * (1 - Math.cos(angle)),
      ];
    };
  },
  /** A seat that slides with the stroke: a quick drive, a slow return. */
  rowing(hz, random) {
    const travelM = 0.3 + 0.1 * random.next();
    const phaseOf = wander(hz, 0.02, random);
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      const w2 = (2 * Math.PI * hz) ** 2;
      return [-travelM * w2 * (Math.sin(phase) + 0.7 * Math.sin(2 * phase + 0.5)), 0, 0.4 * Math.sin(phase + 1)];
    };
  },
  /** Taken up, turned to the face, tapped, put back: turns that begin when they like. */
  handling(hz, random) {
    let angle = 0;
    let turning = 0;
    let aim = 0;
    let tap = 0;
    return (_timeS, stepS) => {
      if (random.next() < hz * stepS) aim = 2 * (random.next() - 0.5) * 1.4;
      if (random.next() < 3 * stepS) tap = 1 + 5 * random.next();
      const pull = 60 * (aim - angle) - 11 * turning;
      turning += pull * stepS;
      angle += turning * stepS;
      tap *= Math.exp(-stepS / 0.02);
      const arm = 0.25;
      return [
        arm * pull + STANDARD_GRAVITY_MPS2 * Math.sin(angle),
        0.3 * random.normal(),
        arm * turning ** 2 - STANDARD_GRAVITY_MPS2 * (1 - Math.cos(angle)) + tap,
      ];
    };
  },
  /** Knees up in turn, one foot always down: the body rises a little with each step and sways with each pair. */
  "stepping-on-the-spot"(hz, random) {
    const riseM = 0.006 + 0.012 * random.next();
    const swayM = 0.01 + 0.02 * random.next();
    const landing = landings(2 + 6 * random.next(), random);
    const phaseOf = wander(hz, 0.02, random);
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      const w2 = (2 * Math.PI * hz) ** 2;
      const up = -riseM * w2 * (Math.sin(phase) + 0.5 * Math.sin(2 * phase + 1));
      return [0.3 * up, -swayM * (w2 / 4) * Math.sin(phase / 2), up + landing(phase, stepS)];
    };
  },
  /** Both feet together: a half-sine push off the ground, then a fall, the wrists quiet. */
  "rope-skipping"(hz, random) {
    const contactShare = 0.45 + 0.2 * random.next();
    const landing = landings(5 + 15 * random.next(), random);
    const phaseOf = wander(hz, 0.02, random);
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      return [0.5 * Math.sin(phase), 0, jump(phase, contactShare) + landing(phase, stepS)];
    };
  },
  /** Apart and together are two jumps; the sway and the lean tell them apart a little. */
  "jumping-jacks"(hz, random) {
    const contactShare = 0.5 + 0.2 * random.next();
    const unlike = 0.1 + 0.3 * random.next();
    const landing = landings(5 + 15 * random.next(), random);
    const phaseOf = wander(hz, 0.03, random);
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      const pair = Math.sin(phase / 2);
      return [1.5 * pair, 0.4 * pair, jump(phase, contactShare) * (1 + unlike * pair) + landing(phase, stepS)];
    };
  },
  /** Up a flight: each step a push to the next tread, slower and stronger than on the level, the thigh rocking. */
  stairs(hz, random) {
    const riseM = 0.03 + 0.02 * random.next();
    const rock = 0.3 + 0.2 * random.next();
    const landing = landings(1 + 3 * random.next(), random);
    const phaseOf = wander(hz, 0.04, random);
    return (_timeS, stepS) => {
      const phase = phaseOf(stepS);
      const w2 = (2 * Math.PI * hz) ** 2;
      const tilt = rock * Math.sin(phase / 2);
      const up = -riseM * w2 * (Math.sin(phase) + 0.4 * Math.sin(2 * phase + 2));
      return [
        STANDARD_GRAVITY_MPS2 * Math.sin(tilt) + 0.4 * up,
        -0.015 * (w2 / 4) * Math.sin(phase / 2 + 1),
        up - STANDARD_GRAVITY_MPS2 * (1 - Math.cos(tilt)) + landing(phase, stepS),
      ];
    };
  },
};

/** Weight carried by a half-sine in contact, free fall in between. */
function jump(phase: number, contactShare: number): number {
  const turns = phase / (2 * Math.PI);
  const u = (turns - Math.floor(turns)) / contactShare;
  const force = u < 1 ? ((Math.PI / 2) * Math.sin(Math.PI * u)) / contactShare : 0;
  return STANDARD_GRAVITY_MPS2 * (force - 1);
}

/** A ring at the start of each turn of the phase, of about this size, never the same twice. */
function landings(sizeMps2: number, random: Random): (phase: number, stepS: number) => number {
  const ringHz = 11 + 9 * random.next();
  const decayS = 0.015 + 0.025 * random.next();
  let turn = Number.NEGATIVE_INFINITY;
  let since = Number.POSITIVE_INFINITY;
  let size = 0;
  return (phase, stepS) => {
    since += stepS;
    const now = Math.floor(phase / (2 * Math.PI));
    if (now !== turn) {
      turn = now;
      since = 0;
      size = sizeMps2 * Math.exp(0.25 * random.normal());
    }
    return size * Math.exp(-Math.min(since, 1) / decayS) * Math.sin(2 * Math.PI * ringHz * Math.min(since, 1));
  };
}

/** A phase that goes on at about `hz`, its rate wandering by this share. */
function wander(hz: number, share: number, random: Random): (stepS: number) => number {
  let phase = 2 * Math.PI * random.next();
  let off = 0;
  return (stepS) => {
    off += -off * 0.5 * stepS + share * Math.sqrt(stepS) * random.normal();
    phase += 2 * Math.PI * hz * (1 + off) * stepS;
    return phase;
  };
}

/** Shaking without a rhythm: low-passed noise of this size on three axes. */
function roughness(random: Random, sizeMps2: number, keep: number): () => Vector {
  const state = [0, 0, 0];
  const kick = sizeMps2 * Math.sqrt(1 - keep * keep);
  return () => {
    for (let i = 0; i < 3; i += 1) state[i] = keep * state[i]! + kick * random.normal();
    return [state[0]!, state[1]!, state[2]!];
  };
}

function randomRotation(random: Random): readonly Vector[] {
  const q = Array.from({ length: 4 }, () => random.normal());
  const size = Math.hypot(...q);
  const [w, x, y, z] = q.map((part) => part / size) as [number, number, number, number];
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
    [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
    [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
  ];
}
