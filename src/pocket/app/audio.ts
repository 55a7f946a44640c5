// One audio clock for the whole page. A browser lets it run only once a finger has asked for sound.
let context: AudioContext | undefined;

/** Call it from a tap. Resolves when the clock runs. */
export async function startAudio(): Promise<AudioContext> {
  // Where the platform has it: this is meant to be heard, also with the ringer off and beside other sound.
  const session = (navigator as { audioSession?: { type: string } }).audioSession;
  if (session !== undefined) session.type = "playback";
  context ??= new AudioContext({ latencyHint: "interactive" });
  if (context.state !== "running") await context.resume();
  return context;
}

/** When what is being played at this moment is heard, in seconds of the audio clock. */
export function heardNowS(audio: AudioContext): number {
  return audio.currentTime - (audio.outputLatency || audio.baseLatency || 0);
}
