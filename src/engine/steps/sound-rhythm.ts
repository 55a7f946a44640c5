// From onsets to a rate track and contacts: the shared rate core, the chain of contacts, and which feet are heard.
import { type RatePoint, type RateTrack } from "./rate-track.ts";
import { chainContacts } from "./sound-contacts.ts";
import { evennessS } from "./sound-evenness.ts";
import { type HeardFeet, type Sounds, measureSounds, whichFeet } from "./sound-feet.ts";
import { type SoundOnsets } from "./sound-onsets.ts";
import { salienceOf, soundFeatures } from "./sound-salience.ts";
import { type SoundStretch, fastReadingSpm, findStretches } from "./sound-stretches.ts";
import { trackRate } from "./track-rate.ts";

export interface SoundContact {
  readonly timeS: number;
  readonly state: "running" | "walking";
  /** Numbers the unbroken pieces, so that nobody takes a pause for a step. */
  readonly piece: number;
}

export interface SoundRhythm {
  readonly track: RateTrack;
  readonly contacts: readonly SoundContact[];
  /** Share of the track's points whose sounds come more evenly than feet. */
  readonly tooEvenShare: number;
}

/** Contacts within this time of a point decide which feet it hears. */
const AROUND_S = 8;
/** A contact was heard, not filled in, when its flux is at least this share of the stretch's usual (median) contact. */
const HEARD_SHARE = 0.35;
/** More contacts than this in a row that were not heard are a pause. */
const MOST_UNHEARD = 2;

/** Contacts more even than `evenLimitS` are a machine's and give no rate. */
export function followRhythm(onsets: SoundOnsets, evenLimitS: number): SoundRhythm {
  const { frameRateHz, total } = onsets;
  const track = trackRate(soundFeatures(onsets));
  const salience = salienceOf(total, frameRateHz);
  const { stretches, intervalFrames } = findStretches(track, frameRateHz, total.length);
  const points = [...track.points];
  const contacts: SoundContact[] = [];
  let piece = 0;
  let tooEven = 0;
  for (const stretch of stretches) {
    const chain = chainContacts(salience, total, intervalFrames, stretch.fromFrame, stretch.toFrame);
    const sounds = measureSounds(total, chain);
    const heard = feetAtPoints(stretch, points, chain, sounds, onsets, evenLimitS);
    stretch.pointIndices.forEach((index, at) => {
      points[index] = settle(track.points[index]!, heard[at]!);
      if (heard[at] === "machine") tooEven += 1;
    });
    piece = addContacts(contacts, piece, chain, total, frameRateHz, stretch, points, heard);
  }
  return { track: { ...track, points }, contacts, tooEvenShare: points.length > 0 ? tooEven / points.length : 0 };
}

function feetAtPoints(
  stretch: SoundStretch,
  points: readonly RatePoint[],
  chain: readonly number[],
  sounds: Sounds,
  onsets: SoundOnsets,
  evenLimitS: number,
): readonly Heard[] {
  let from = 0;
  let to = 0;
  return stretch.pointIndices.map((index) => {
    const { timeS } = points[index]!;
    while (from < chain.length && chain[from]! < (timeS - AROUND_S) * onsets.frameRateHz) from += 1;
    while (to < chain.length && chain[to]! <= (timeS + AROUND_S) * onsets.frameRateHz) to += 1;
    const heard = whichFeet(sounds, from, to, onsets.bandCount);
    if (heard === "unclear") return heard;
    const timesS: number[] = [];
    for (let contact = from; contact < to; contact += 1)
      if (heard === "all" || contact % 2 === heard.parity) timesS.push(chain[contact]! / onsets.frameRateHz);
    return evennessS(timesS) < evenLimitS ? "machine" : heard;
  });
}

type Heard = HeardFeet | "machine";

/** The point with the rate that its sounds stand for, or none. */
function settle(point: RatePoint, heard: Heard): RatePoint {
  if (point.stepRateSpm === null) return point;
  if (heard === "unclear" || heard === "machine")
    return {
      timeS: point.timeS,
      stepRateSpm: null,
      quality: 0,
      state: "unknown",
      reason: heard === "machine" ? "no-rhythm" : "two-rates-fit",
    };
  const fast = fastReadingSpm(point.stepRateSpm);
  const stepRateSpm = heard === "all" ? fast : fast / 2;
  if (stepRateSpm === point.stepRateSpm) return point;
  return { ...point, stepRateSpm, state: heard === "all" ? "running" : "walking" };
}

/** Adds the stretch's contacts that belong to answered points and were heard; returns the next piece number. */
function addContacts(
  contacts: SoundContact[],
  firstPiece: number,
  chain: readonly number[],
  flux: Float64Array,
  frameRateHz: number,
  stretch: SoundStretch,
  points: readonly RatePoint[],
  heard: readonly Heard[],
): number {
  let piece = firstPiece;
  const fluxes = chain.map((frame) => flux[Math.round(frame)] ?? 0);
  const usual = fluxes.toSorted((a, b) => a - b)[chain.length >> 1] ?? 0;
  let unheard: SoundContact[] = [];
  let begun = false;
  let at = 0;
  const { pointIndices } = stretch;
  const end = (): void => {
    unheard = [];
    if (begun) piece += 1;
    begun = false;
  };
  chain.forEach((frame, index) => {
    const timeS = frame / frameRateHz;
    while (at + 1 < pointIndices.length) {
      const here = Math.abs(points[pointIndices[at]!]!.timeS - timeS);
      if (Math.abs(points[pointIndices[at + 1]!]!.timeS - timeS) > here) break;
      at += 1;
    }
    const feet = heard[at]!;
    const { state } = points[pointIndices[at]!]!;
    if (feet === "unclear" || feet === "machine" || (state !== "running" && state !== "walking")) {
      end();
      return;
    }
    if (feet !== "all" && index % 2 !== feet.parity) return;
    const contact = { timeS, state, piece };
    if (fluxes[index]! >= HEARD_SHARE * usual) {
      // What was filled in between two heard contacts stays.
      contacts.push(...unheard, contact);
      unheard = [];
      begun = true;
    } else if (begun) {
      unheard.push(contact);
      if (unheard.length > MOST_UNHEARD) end();
    }
  });
  end();
  return piece;
}
