// What else in the clip has a rhythm: a metronome, music. Found, and said in plain words.
import { machineContactSpreadS, machineContactSpreadWhenHeardS } from "../evidence/sound.ts";
import { type Warning } from "../quantities/problem.ts";
import { type RatePoint } from "./rate-track.ts";
import { type BeatPart, beatsPerMinute, findBeats } from "./sound-beats.ts";
import { musicShare } from "./sound-tones.ts";

export interface SoundConfounds {
  /** Beats a minute of a metronome, where one is heard. */
  readonly metronomeBpm?: number;
  /** Share of the time in which music is heard, 0 to 1. */
  readonly musicShare: number;
  /** Parts with the metronome, for taking it out. */
  readonly beats: readonly BeatPart[];
  /** Contacts more even than this are a machine's. */
  readonly evenLimitS: number;
}

/** Music in less of the time than this is a ring tone, a shout, a squeak. */
const LEAST_MUSIC_SHARE = 0.25;
/** With something else in the clip, steps found in less of it than this are too likely its remains. */
const LEAST_ANSWERED_SHARE = 0.25;

export function findConfounds(samples: Float32Array, sampleRateHz: number): SoundConfounds {
  const beats = findBeats(samples, sampleRateHz);
  const share = musicShare(samples, sampleRateHz);
  const longest = beats.toSorted((a, b) => b.endS - b.startS - (a.endS - a.startS))[0];
  const heard = longest !== undefined || share >= LEAST_MUSIC_SHARE;
  return {
    ...(longest === undefined ? {} : { metronomeBpm: beatsPerMinute(longest.grid) }),
    musicShare: share,
    beats,
    evenLimitS: heard ? machineContactSpreadWhenHeardS.value : machineContactSpreadS.value,
  };
}

/** Nothing but the confound was heard: no step may be told from this clip. */
export function onlyConfound(confounds: SoundConfounds, points: readonly RatePoint[]): boolean {
  const answered = points.filter((point) => point.stepRateSpm !== null).length;
  const heard = confounds.metronomeBpm !== undefined || confounds.musicShare >= LEAST_MUSIC_SHARE;
  return heard && answered < LEAST_ANSWERED_SHARE * points.length;
}

/** Codes: metronome-heard, metronome-only, music-heard, music-only, sound-too-even. */
export function confoundWarnings(confounds: SoundConfounds, only: boolean, tooEvenShare: number): readonly Warning[] {
  const warnings: Warning[] = [];
  const { metronomeBpm } = confounds;
  const bpm = metronomeBpm === undefined ? "" : `${Math.round(metronomeBpm)} a minute`;
  if (metronomeBpm !== undefined)
    warnings.push(
      only
        ? {
            code: "metronome-only",
            message: `A metronome at ${bpm} is heard, and no steps that could be told from it. Put the phone nearer to the feet or turn the beat down.`,
          }
        : {
            code: "metronome-heard",
            message: `A metronome at ${bpm} is in the clip. It was taken out; a rate close to it deserves a second look.`,
          },
    );
  if (confounds.musicShare >= LEAST_MUSIC_SHARE)
    warnings.push(
      only
        ? {
            code: "music-only",
            message: "Music is heard, and no steps that could be told from it. Record without music.",
          }
        : { code: "music-heard", message: "Music is in the clip. Its beat may hide steps: better record without it." },
    );
  if (warnings.length === 0 && tooEvenShare >= 0.5)
    warnings.push({
      code: "sound-too-even",
      message: "The sounds come more evenly than any runner's steps: a machine or a metronome, not feet.",
    });
  return warnings;
}
