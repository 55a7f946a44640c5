// Ogg Vorbis: the smallest track. Encoded by libVorbis, compiled to WebAssembly.
import { setImmediate } from "node:timers/promises";
import { createOggEncoder } from "wasm-media-encoders";
import { type SoundOptions, renderBeat } from "../../engine/beat/render.ts";
import { type BeatSchedule } from "../../engine/beat/schedule.ts";
import { type TrackTags } from "../../engine/beat/track-tags.ts";
import { replaceComment } from "./ogg-pages.ts";
import { trackComment } from "./track-comment.ts";

const QUALITY = 3;
const FULL_SCALE = 32_767;

/** The track as Ogg Vorbis, a few seconds at a time; gives way to other work between the pieces. */
export async function* vorbisChunks(
  schedule: BeatSchedule,
  sound: SoundOptions,
  tags: TrackTags,
): AsyncGenerator<Uint8Array, void, undefined> {
  const comment = trackComment(tags);
  const encoder = await createOggEncoder();
  encoder.configure({ channels: 1, sampleRate: schedule.sampleRateHz, vbrQuality: QUALITY });
  let beginning: Buffer | undefined = Buffer.alloc(0);
  // The encoder's bytes are only lent until its next call, so they are copied.
  const pass = (bytes: Uint8Array): Buffer | undefined => {
    if (beginning === undefined) return Buffer.from(bytes);
    beginning = Buffer.concat([beginning, bytes]);
    const replaced = replaceComment(beginning, comment);
    if (replaced !== undefined) beginning = undefined;
    return replaced;
  };
  for (const chunk of renderBeat(schedule, sound)) {
    const encoded = pass(encoder.encode([toFloats(chunk)]));
    if (encoded !== undefined && encoded.length > 0) yield encoded;
    await setImmediate();
  }
  const last = pass(encoder.finalize());
  if (last === undefined) throw new Error("vorbisChunks: the encoder wrote no complete beginning");
  yield last;
}

/** A plain loop: the mapping form of Float32Array.from takes as long as a tenth of the encoding. */
function toFloats(chunk: Int16Array): Float32Array {
  const floats = new Float32Array(chunk.length);
  for (let index = 0; index < chunk.length; index += 1) floats[index] = (chunk[index] ?? 0) / FULL_SCALE;
  return floats;
}
