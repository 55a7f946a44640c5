// The comment block that Ogg Vorbis and FLAC share (Xiph.Org, Vorbis I specification, section 5; RFC 9639, section 8.6).
import { type TrackTags, checkedTags } from "../../engine/beat/track-tags.ts";

const VENDOR = "Spondee";

/** Vendor, then TITLE and ARTIST, all UTF-8 with 32-bit little-endian lengths. Without Vorbis' framing bit. */
export function trackComment(tags: TrackTags): Uint8Array {
  const { title, initials } = checkedTags(tags);
  const fields = [
    ["TITLE", title],
    ["ARTIST", initials],
  ].flatMap(([name, value]) => (value === "" ? [] : [`${name}=${value}`]));
  return Buffer.concat([text(VENDOR), uint32(fields.length), ...fields.map(text)]);
}

function text(value: string): Uint8Array {
  const bytes = Buffer.from(value, "utf8");
  return Buffer.concat([uint32(bytes.length), bytes]);
}

function uint32(value: number): Uint8Array {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(value);
  return bytes;
}
