// Where the beat goes: straight to the loudspeaker, or through a media element, which some phones keep playing when the screen
// is dark. The element adds a constant delay, never a change of the intervals.

export interface PlayerOutput {
  readonly input: AudioNode;
  setVolume(share: number): void;
  /** Names what is playing where the phone shows it, and hears its pause button. */
  announce(title: string, on: { readonly play: () => void; readonly pause: () => void }): void;
  setPlaying(playing: boolean): void;
  close(): void;
}

/** Louder in even steps to the ear: −40 dB at the least, 0 dB at the most, silence at 0. */
export function gainOfShare(volumeShare: number): number {
  const share = Math.min(1, Math.max(0, volumeShare));
  return share === 0 ? 0 : 10 ** ((share - 1) * 2);
}

export function openOutput(
  audio: AudioContext,
  options: { readonly throughPlayer: boolean; readonly volumeShare: number },
): PlayerOutput {
  const level = audio.createGain();
  level.gain.value = gainOfShare(options.volumeShare);
  let element: HTMLAudioElement | undefined;
  if (options.throughPlayer) {
    const stream = audio.createMediaStreamDestination();
    level.connect(stream);
    element = new Audio();
    element.srcObject = stream.stream;
    void element.play().catch(() => undefined);
  } else level.connect(audio.destination);
  const session = "mediaSession" in navigator ? navigator.mediaSession : undefined;
  return {
    input: level,
    setVolume: (share) => level.gain.setTargetAtTime(gainOfShare(share), audio.currentTime, 0.02),
    announce: (title, on) => {
      if (session === undefined) return;
      session.metadata = new MediaMetadata({ title, artist: "Spondee" });
      session.setActionHandler("play", on.play);
      session.setActionHandler("pause", on.pause);
    },
    setPlaying: (playing) => {
      if (session !== undefined) session.playbackState = playing ? "playing" : "paused";
      if (playing) void element?.play().catch(() => undefined);
    },
    close: () => {
      level.disconnect();
      element?.pause();
      if (element !== undefined) element.srcObject = null;
      if (session === undefined) return;
      session.playbackState = "none";
      session.metadata = null;
      session.setActionHandler("play", null);
      session.setActionHandler("pause", null);
    },
  };
}
