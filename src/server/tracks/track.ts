// One door to every kind of track: the file's name, its type and its bytes as a stream.
import { type SoundOptions } from "../../engine/beat/render.ts";
import { type BeatSchedule } from "../../engine/beat/schedule.ts";
import { type TrackTags, checkedTags } from "../../engine/beat/track-tags.ts";
import { wavTrack } from "../../engine/beat/wav.ts";
import { type Result, succeed } from "../../engine/quantities/problem.ts";
import { flacChunks } from "./flac-track.ts";
import { vorbisChunks } from "./vorbis-track.ts";

export type TrackFormat = "wav" | "flac" | "ogg";

export interface TrackRequest {
  readonly schedule: BeatSchedule;
  readonly sound: SoundOptions;
  readonly tags: TrackTags;
  readonly format: TrackFormat;
}

export interface TrackFile {
  /** "Wednesday stage 2 MK.flac": title and initials, safe on every file system. */
  readonly fileName: string;
  readonly mediaType: string;
  /** Known beforehand for WAV only. */
  readonly byteCount?: number;
  /** Encodes while it is read, with memory for a few seconds of sound; each call starts afresh. */
  chunks(): AsyncGenerator<Uint8Array, void, undefined>;
}

const MEDIA_TYPES: Readonly<Record<TrackFormat, string>> = {
  wav: "audio/wav",
  flac: "audio/flac",
  ogg: "audio/ogg",
};

/** A track ready to be streamed; a problem when it is too long for a WAV file. */
export function createTrack(request: TrackRequest): Result<TrackFile> {
  const { schedule, sound, tags, format } = request;
  const file = { fileName: trackFileName(tags, format), mediaType: MEDIA_TYPES[format] };
  switch (format) {
    case "flac":
      return succeed({ ...file, chunks: () => flacChunks(schedule, sound, tags) });
    case "ogg":
      return succeed({ ...file, chunks: () => vorbisChunks(schedule, sound, tags) });
    case "wav": {
      const wav = wavTrack(schedule, sound, tags);
      if (!wav.ok) return wav;
      const track = wav.value;
      return succeed({
        ...file,
        byteCount: track.byteCount,
        // oxlint-disable-next-line require-await -- an async face on a plain generator
        async *chunks() {
          yield* track.chunks();
        },
      });
    }
  }
}

const LONGEST_STEM = 80;

/** Letters, digits, spaces, hyphens and dots; anything else becomes a space. "Session" when nothing is left. */
export function trackFileName(tags: TrackTags, extension: string): string {
  const { title, initials } = checkedTags(tags);
  const words = `${title} ${initials}`
    .normalize("NFC")
    .replaceAll(/[^\p{Letter}\p{Mark}\p{Number}.-]+/gu, " ")
    .replaceAll(/^[\s.-]+|[\s.-]+$/gu, "");
  const stem = Array.from(words).slice(0, LONGEST_STEM).join("").trim();
  return `${stem === "" ? "Session" : stem}.${extension}`;
}
