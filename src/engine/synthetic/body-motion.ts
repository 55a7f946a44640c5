// Acceleration of an invented runner's body at one place, in the world frame and its tilt: forces and swinging limbs,
// nothing about how steps are detected. x forward, y sideways, z up.
import { type Random } from "../quantities/random.ts";
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";
import { type GaitTimeline } from "./gait-timeline.ts";

export type Placement = "waist" | "pocket" | "hand" | "armband" | "wrist" | "ankle";

/** At `rateHz`: linear acceleration and the tilt of the sensor's seat about the y axis. */
export interface BodyMotion {
  readonly rateHz: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly tiltRad: Float64Array;
}

interface Limb {
  /** Swing in running, half of the arc. */
  readonly swingRad: number;
  /** From the joint to the sensor. */
  readonly lengthM: number;
  /** Second harmonic of the swing. */
  readonly secondShare: number;
  /** Impact seen from the own side's foot and from the other's. */
  readonly ownImpact: number;
  readonly otherImpact: number;
}

const LIMBS: Readonly<Record<Exclude<Placement, "ankle">, Limb>> = {
  waist: { swingRad: 0.06, lengthM: 0.1, secondShare: 0.3, ownImpact: 0.5, otherImpact: 0.45 },
  pocket: { swingRad: 0.5, lengthM: 0.28, secondShare: 0.2, ownImpact: 1, otherImpact: 0.5 },
  hand: { swingRad: 0.5, lengthM: 0.38, secondShare: 0.15, ownImpact: 0.3, otherImpact: 0.3 },
  armband: { swingRad: 0.4, lengthM: 0.2, secondShare: 0.15, ownImpact: 0.35, otherImpact: 0.35 },
  wrist: { swingRad: 0.7, lengthM: 0.45, secondShare: 0.2, ownImpact: 0.3, otherImpact: 0.3 },
};

/** Step rate at which a body's own strength of walking is given. */
const WALK_REFERENCE_SPM = 108;

/** One invented body, drawn once for a recording: everything that differs between people. */
function drawBody(random: Random) {
  const between = (low: number, high: number): number => low + (high - low) * random.next();
  return {
    side: random.below(2),
    contactShare: between(0.6, 0.86), // of a step: duty factor 0.30–0.43
    pulseSkew: between(0.85, 1.15),
    footStrength: between(-0.05, 0.05),
    brakeMps2: between(1.5, 4),
    swayMps2: between(0.6, 2.5),
    swayPhase: between(0, 2 * Math.PI),
    impactMps2: between(4, 30),
    impactHz: between(11, 22),
    impactDecayS: between(0.015, 0.04),
    swingScale: between(0.7, 1.3),
    swingPhase: between(-0.6, 0.6),
    walkMps2: between(1.3, 2.8),
    walkSecond: between(0.2, 0.7),
    walkPhase: between(-0.8, 0.8),
    footTravel: between(0.5, 0.8),
    liftM: between(0.12, 0.28),
    shankRad: between(0.4, 0.8),
  };
}

/** Body acceleration over a timeline at `rateHz` (400 is enough: nothing here is faster than 25 Hz). */
export function moveBody(timeline: GaitTimeline, placement: Placement, rateHz: number, random: Random): BodyMotion {
  const body = drawBody(random);
  const n = Math.ceil(timeline.durationS * rateHz) + 1;
  const out: BodyMotion = {
    rateHz,
    x: new Float64Array(n),
    y: new Float64Array(n),
    z: new Float64Array(n),
    tiltRad: new Float64Array(n),
  };
  const { phase, level, running } = gaitPhase(timeline, rateHz, n);
  if (placement === "ankle") moveAnkle(out, body, phase, level, running, rateHz);
  else moveTrunkAndLimb(out, body, LIMBS[placement], phase, level, running, rateHz);
  addImpacts(out, body, timeline, placement, random);
  addIdle(out, placement, level, random);
  return out;
}

type Body = ReturnType<typeof drawBody>;

/**
 * Steps as a smooth phase (whole numbers at contacts, even numbers the foot 0), how far the gait has set in, and whether
 * it is running. Cubic between contacts, so that limbs have no jumps of speed at contacts.
 */
function gaitPhase(timeline: GaitTimeline, rateHz: number, n: number) {
  const phase = new Float64Array(n);
  const level = new Float64Array(n);
  const running = new Uint8Array(n);
  const { stepTimesS, feet, segmentOf, segments } = timeline;
  for (let i = 0; i < stepTimesS.length; i += 1) {
    const same = (j: number): boolean => segmentOf[j] === segmentOf[i];
    const t0 = stepTimesS[i]!;
    const segment = segments[segmentOf[i]!]!;
    const isRunning = segment.state === "running" ? 1 : 0;
    // The last step of a segment lasts to the segment's end.
    const t1 = same(i + 1) ? stepTimesS[i + 1]! : segment.endS;
    const nominal = same(i + 1) ? t1 - t0 : same(i - 1) ? t0 - stepTimesS[i - 1]! : t1 - t0;
    const speedAt = (j: number): number =>
      same(j + 1) && same(j - 1) ? 2 / (stepTimesS[j + 1]! - stepTimesS[j - 1]!) : 1 / nominal;
    const from = same(i - 1) ? speedAt(i) : 1 / nominal;
    const to = same(i + 1) ? speedAt(i + 1) : 1 / nominal;
    const span = nominal;
    const begin = same(i - 1) ? t0 : Math.min(t0, segment.startS + 1e-9);
    for (let s = Math.max(0, Math.ceil(begin * rateHz)); s < n && s / rateHz < t1; s += 1) {
      const timeS = s / rateHz;
      const u = (timeS - t0) / span;
      const hermite =
        u < 0 || u > 1
          ? u
          : (u ** 3 - 2 * u ** 2 + u) * from * span + (-2 * u ** 3 + 3 * u ** 2) + (u ** 3 - u ** 2) * to * span;
      phase[s] = feet[i]! + hermite;
      running[s] = isRunning;
      const edgeS = Math.min(timeS - segment.startS, segment.endS - timeS);
      const rise = Math.min(1, Math.max(0, edgeS / 0.6));
      level[s] = rise * rise * (3 - 2 * rise);
    }
  }
  return { phase, level, running };
}

function moveTrunkAndLimb(
  out: BodyMotion,
  body: Body,
  limb: Limb,
  phase: Float64Array,
  level: Float64Array,
  running: Uint8Array,
  rateHz: number,
): void {
  const n = phase.length;
  const armX = new Float64Array(n);
  const armZ = new Float64Array(n);
  const pulseMean = meanPulse(body);
  for (let s = 0; s < n; s += 1) {
    const a = level[s]!;
    if (a === 0) {
      armZ[s] = -limb.lengthM;
      continue;
    }
    const p = phase[s]!;
    const u = p - Math.floor(p);
    const foot = Math.abs(Math.floor(p)) % 2;
    const stride = Math.PI * p; // one turn in two steps
    const isRunning = running[s] === 1;
    if (isRunning) {
      const inContact = u < body.contactShare;
      const strength = foot === body.side ? 1 + body.footStrength : 1 - body.footStrength;
      const force = inContact ? (strength * pulse(u / body.contactShare, body.pulseSkew)) / pulseMean : 0;
      out.z[s] = a * STANDARD_GRAVITY_MPS2 * (force - 1);
      out.x[s] = inContact ? -a * body.brakeMps2 * Math.sin((2 * Math.PI * u) / body.contactShare) : 0;
      out.y[s] = a * body.swayMps2 * Math.sin(stride + body.swayPhase);
    } else {
      const turn = 2 * Math.PI * u;
      // The body's way up and down is the same at every rate: acceleration goes with the rate squared.
      const advance = s > 0 && level[s - 1]! > 0 ? p - phase[s - 1]! : 0;
      const rateSpm = 60 * rateHz * (advance - 2 * Math.round(advance / 2)); // the phase starts anew every two steps
      const walkMps2 = body.walkMps2 * (rateSpm / WALK_REFERENCE_SPM) ** 2;
      out.z[s] = a * walkMps2 * (Math.cos(turn - 0.6) + body.walkSecond * Math.cos(2 * turn + body.walkPhase));
      out.x[s] = a * 0.7 * walkMps2 * Math.sin(turn + body.walkPhase);
      out.y[s] = a * 0.4 * body.swayMps2 * Math.sin(stride + body.swayPhase);
    }
    const swing = a * (isRunning ? 1 : 0.55) * body.swingScale * limb.swingRad;
    const angle = stride + body.side * Math.PI + body.swingPhase;
    const tilt = swing * (Math.sin(angle) + limb.secondShare * Math.sin(2 * angle + body.walkPhase));
    out.tiltRad[s] = tilt;
    armX[s] = limb.lengthM * Math.sin(tilt);
    armZ[s] = -limb.lengthM * Math.cos(tilt);
  }
  for (let s = 1; s + 1 < n; s += 1) {
    out.x[s]! += (armX[s + 1]! - 2 * armX[s]! + armX[s - 1]!) * rateHz * rateHz;
    out.z[s]! += (armZ[s + 1]! - 2 * armZ[s]! + armZ[s - 1]!) * rateHz * rateHz;
  }
}

/** Force over contact, 0–1 of the contact, before scaling. */
function pulse(s: number, skew: number): number {
  return Math.sin(Math.PI * s ** skew);
}

/** Mean over a step, so that the mean force carries exactly the body weight. */
function meanPulse(body: Body): number {
  let sum = 0;
  for (let i = 0; i < 200; i += 1) sum += pulse((i + 0.5) / 200, body.pulseSkew);
  return (sum / 200) * body.contactShare;
}

/**
 * The foot stands still in contact and flies forward in between: a stride length of travel with no speed at either end,
 * lifted on the way, the shank turning.
 */
function moveAnkle(
  out: BodyMotion,
  body: Body,
  phase: Float64Array,
  level: Float64Array,
  running: Uint8Array,
  rateHz: number,
): void {
  for (let s = 0; s < phase.length; s += 1) {
    const a = level[s]!;
    if (a === 0) continue;
    const own = (phase[s]! + body.side) / 2;
    const turn = own - Math.floor(own);
    const isRunning = running[s] === 1;
    const duty = isRunning ? body.contactShare / 2 : 0.61;
    const previous = phase[Math.max(0, s - 1)]!;
    const strideHz = Math.max(0.3, ((phase[s]! - previous) * rateHz) / 2);
    const strideM = isRunning ? 2.2 : 1.3;
    if (turn >= duty) {
      const w = (turn - duty) / (1 - duty);
      const swingS = (1 - duty) / strideHz;
      const travel = isRunning ? body.footTravel : 0.6 * body.footTravel;
      out.x[s] = (a * travel * 2 * Math.PI * strideM * Math.sin(2 * Math.PI * w)) / swingS ** 2;
      const lift = isRunning ? body.liftM : 0.4 * body.liftM;
      out.z[s] = a * lift * 2 * (Math.PI / swingS) ** 2 * Math.cos(2 * Math.PI * w);
      out.y[s] = a * body.swayMps2 * Math.sin(Math.PI * w);
    }
    out.tiltRad[s] = a * (isRunning ? 1 : 0.6) * body.shankRad * Math.sin(2 * Math.PI * turn + body.swayPhase);
  }
}

function addImpacts(out: BodyMotion, body: Body, timeline: GaitTimeline, placement: Placement, random: Random): void {
  const limb = placement === "ankle" ? { ownImpact: 2.2, otherImpact: 0.12 } : LIMBS[placement];
  const n = out.z.length;
  for (let i = 0; i < timeline.stepTimesS.length; i += 1) {
    const state = timeline.segments[timeline.segmentOf[i]!]!.state;
    const seen = timeline.feet[i] === body.side ? limb.ownImpact : limb.otherImpact;
    const size = seen * body.impactMps2 * Math.exp(0.25 * random.normal()) * (state === "running" ? 1 : 0.2);
    const first = Math.ceil(timeline.stepTimesS[i]! * out.rateHz);
    for (let s = first; s < n; s += 1) {
      const since = s / out.rateHz - timeline.stepTimesS[i]!;
      if (since > 6 * body.impactDecayS) break;
      const ring = size * Math.exp(-since / body.impactDecayS) * Math.sin(2 * Math.PI * body.impactHz * since);
      out.z[s]! += ring;
      out.x[s]! -= 0.4 * ring;
    }
  }
}

/** Standing is not silence: sway, and fidgeting of a held or worn sensor. */
function addIdle(out: BodyMotion, placement: Placement, level: Float64Array, random: Random): void {
  const fidget = placement === "hand" || placement === "wrist" ? 0.25 : 0.06;
  let sx = 0;
  let sy = 0;
  let sz = 0;
  const keep = Math.exp((-2 * Math.PI * 0.8) / out.rateHz);
  const kick = Math.sqrt(1 - keep * keep);
  for (let s = 0; s < level.length; s += 1) {
    sx = keep * sx + kick * random.normal();
    sy = keep * sy + kick * random.normal();
    sz = keep * sz + kick * random.normal();
    const still = fidget * (1 - level[s]!);
    out.x[s]! += still * sx;
    out.y[s]! += still * sy;
    out.z[s]! += still * sz;
  }
}
