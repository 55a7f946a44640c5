// Start and stop tones of the counting clock, and a lane's beat, on the audio clock: never on timers, which drift and are throttled.
import { type ClickId, clickSamples } from "../../engine/beat/clicks.ts";
import { createBeatSchedule } from "../../engine/beat/create-schedule.ts";
import { beatEvents } from "../../engine/beat/events.ts";
import type { StepEvent } from "../../engine/beat/schedule.ts";

/** A soft-edged tone between two moments of the audio clock. Returns a function that silences it. */
export function playTone(
  context: AudioContext,
  tone: { readonly atS: number; readonly lengthS: number; readonly frequencyHz: number; readonly gain?: number },
): () => void {
  const oscillator = context.createOscillator();
  const level = context.createGain();
  const loudness = tone.gain ?? 0.5;
  oscillator.frequency.value = tone.frequencyHz;
  level.gain.setValueAtTime(0, tone.atS);
  level.gain.linearRampToValueAtTime(loudness, tone.atS + 0.006);
  level.gain.setValueAtTime(loudness, tone.atS + tone.lengthS - 0.03);
  level.gain.linearRampToValueAtTime(0, tone.atS + tone.lengthS);
  oscillator.connect(level).connect(context.destination);
  oscillator.start(tone.atS);
  oscillator.stop(tone.atS + tone.lengthS);
  return () => {
    level.disconnect();
  };
}

export interface BeatPlayer {
  stop(): void;
}

const LOOK_AHEAD_S = 0.6;
const WAKE_EVERY_MS = 150;
const LONGEST_S = 3 * 3600;

/** Plays a steady beat, one click per step, until stopped. Rate in both-feet spm, 40–300. */
export function playBeat(context: AudioContext, stepRateSpm: number, clickId: ClickId): BeatPlayer {
  const sampleRateHz = context.sampleRate;
  const schedule = createBeatSchedule({ stepRateSpm, durationS: LONGEST_S }, { sampleRateHz });
  if (!schedule.ok) return { stop: () => undefined };
  const sounds = new Map<string, AudioBuffer>();
  const soundOf = (event: StepEvent): AudioBuffer => {
    const key = `${event.voice} ${event.accent}`;
    const known = sounds.get(key);
    if (known) return known;
    const samples = clickSamples(clickId, { sampleRateHz, voice: event.voice, accent: event.accent, kind: event.kind });
    const buffer = context.createBuffer(1, samples.length, sampleRateHz);
    buffer.copyToChannel(new Float32Array(samples), 0);
    sounds.set(key, buffer);
    return buffer;
  };
  const output = context.createGain();
  output.connect(context.destination);
  const startS = context.currentTime + 0.1;
  const events = beatEvents(schedule.value);
  let upcoming = events.next();
  const fill = (): void => {
    while (!upcoming.done && startS + upcoming.value.timeS < context.currentTime + LOOK_AHEAD_S) {
      const event = upcoming.value;
      if (event.kind !== "announce") {
        const source = context.createBufferSource();
        source.buffer = soundOf(event);
        source.connect(output);
        source.start(startS + event.timeS);
      }
      upcoming = events.next();
    }
  };
  fill();
  const timer = setInterval(fill, WAKE_EVERY_MS);
  return {
    stop: () => {
      clearInterval(timer);
      output.disconnect();
    },
  };
}
