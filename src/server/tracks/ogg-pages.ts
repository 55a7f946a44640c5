// Pages of an Ogg stream (RFC 3533, section 6), just enough to replace the comment header that the encoder wrote.

const HEAD_BYTES = 27;
const MOST_SEGMENTS = 255;
const CHECKSUM_AT = 22;

interface OggPage {
  readonly head: Buffer;
  readonly segments: readonly number[];
  readonly body: Buffer;
}

/** The page that starts at `offset`, or undefined while it is not complete. */
function readPage(bytes: Buffer, offset: number): OggPage | undefined {
  if (bytes.length < offset + HEAD_BYTES) return undefined;
  if (bytes.toString("latin1", offset, offset + 4) !== "OggS") throw new Error("readPage: not an Ogg page");
  const segmentCount = bytes.readUInt8(offset + 26);
  const bodyAt = offset + HEAD_BYTES + segmentCount;
  if (bytes.length < bodyAt) return undefined;
  const segments = [...bytes.subarray(offset + HEAD_BYTES, bodyAt)];
  const bodyEnd = bodyAt + segments.reduce((sum, length) => sum + length, 0);
  if (bytes.length < bodyEnd) return undefined;
  return { head: bytes.subarray(offset, offset + HEAD_BYTES), segments, body: bytes.subarray(bodyAt, bodyEnd) };
}

/**
 * The beginning of an Ogg Vorbis stream with the given comment in place of the encoder's, or undefined while the bytes do
 * not yet hold both header pages. The encoder puts comment and set-up headers on the second page; so does the result, so
 * the pages that follow keep their numbers.
 */
export function replaceComment(bytes: Buffer, comment: Uint8Array): Buffer | undefined {
  const first = readPage(bytes, 0);
  if (first === undefined) return undefined;
  const secondAt = HEAD_BYTES + first.segments.length + first.body.length;
  const second = readPage(bytes, secondAt);
  if (second === undefined) return undefined;
  const [, setUp, ...more] = packetsOf(second);
  if (setUp?.toString("latin1", 1, 7) !== "vorbis" || setUp.readUInt8(0) !== 5 || more.length > 0)
    throw new Error("replaceComment: the second page does not hold the comment and set-up headers");
  const packets = [Buffer.concat([Buffer.from("\u0003vorbis", "latin1"), comment, Buffer.from([1])]), setUp];
  const rest = bytes.subarray(secondAt + HEAD_BYTES + second.segments.length + second.body.length);
  return Buffer.concat([bytes.subarray(0, secondAt), writePage(second.head, packets), rest]);
}

/** Packets that end on the page: a segment shorter than 255 bytes ends one. */
function packetsOf(page: OggPage): Buffer[] {
  const packets: Buffer[] = [];
  let start = 0;
  let end = 0;
  for (const length of page.segments) {
    end += length;
    if (length === MOST_SEGMENTS) continue;
    packets.push(page.body.subarray(start, end));
    start = end;
  }
  if (start !== end) throw new Error("packetsOf: a header runs on to the next page");
  return packets;
}

function writePage(head: Buffer, packets: readonly Buffer[]): Buffer {
  const segments = packets.flatMap(({ length }) => [
    ...Array.from({ length: Math.floor(length / MOST_SEGMENTS) }, () => MOST_SEGMENTS),
    length % MOST_SEGMENTS,
  ]);
  if (segments.length > MOST_SEGMENTS) throw new RangeError("writePage: the packets do not fit on one page");
  const page = Buffer.concat([head, Buffer.from(segments), ...packets]);
  page.writeUInt8(segments.length, HEAD_BYTES - 1);
  page.writeUInt32LE(0, CHECKSUM_AT);
  page.writeUInt32LE(oggChecksum(page), CHECKSUM_AT);
  return page;
}

const POLYNOMIAL = 0x04c11db7;
const CHECKSUM_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte << 24;
  for (let bit = 0; bit < 8; bit += 1) value = (value << 1) ^ (value < 0 ? POLYNOMIAL : 0);
  return value >>> 0;
});

/** CRC-32 with polynomial 04c11db7, from 0, bits not reflected (RFC 3533, section 6, item 7). */
function oggChecksum(bytes: Uint8Array): number {
  let checksum = 0;
  for (const byte of bytes) checksum = (checksum << 8) ^ (CHECKSUM_TABLE[(checksum >>> 24) ^ byte] ?? 0);
  return checksum >>> 0;
}
