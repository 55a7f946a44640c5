// A clip whose every picture says which one it is: twelve squares, black or white, are its number. Encoded in the browser (VP8)
// and put into a WebM file here (RFC 9559, Matroska; RFC 8794, EBML), so that each picture has its exact time.
import type { Page } from "playwright-core";

export const CLIP = { width: 384, height: 216, bits: 12 } as const;

export async function makeCountedClip(page: Page, pictures: number, rateHz: number): Promise<Buffer> {
  const encoded = await page.evaluate(
    async ({ pictures, rateHz, width, height, bits }) => {
      const canvas = new OffscreenCanvas(width, height);
      const pen = canvas.getContext("2d")!;
      const chunks: { key: boolean; base64: string }[] = [];
      const encoder = new VideoEncoder({
        error: (error) => {
          throw error;
        },
        output: (chunk) => {
          const bytes = new Uint8Array(chunk.byteLength);
          chunk.copyTo(bytes);
          chunks.push({ key: chunk.type === "key", base64: btoa(String.fromCharCode(...bytes)) });
        },
      });
      encoder.configure({ codec: "vp8", width, height, framerate: rateHz, bitrate: 400_000 });
      for (let index = 0; index < pictures; index += 1) {
        pen.fillStyle = "#888";
        pen.fillRect(0, 0, width, height);
        for (let bit = 0; bit < bits; bit += 1) {
          pen.fillStyle = (index >> bit) & 1 ? "#fff" : "#000";
          pen.fillRect((bit * width) / bits, 0, width / bits, 64);
        }
        const picture = new VideoFrame(canvas, { timestamp: Math.round((1e6 * index) / rateHz) });
        encoder.encode(picture, { keyFrame: index % 10 === 0 });
        picture.close();
      }
      await encoder.flush();
      return chunks;
    },
    { pictures, rateHz, ...CLIP },
  );
  const chunks = encoded.map(({ key, base64 }) => ({ key, bytes: Buffer.from(base64, "base64") }));
  return webm(chunks, rateHz);
}

/** The number of the picture that a page's video shows now; -1 while it shows none. */
export function shownPicture(page: Page): Promise<number> {
  return page.evaluate(
    ({ width, height, bits }) => {
      const canvas = new OffscreenCanvas(width, height);
      const pen = canvas.getContext("2d", { willReadFrequently: true })!;
      const video = document.querySelector("video");
      if (video === null || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA || video.seeking) return -1;
      pen.drawImage(video, 0, 0, width, height);
      let index = 0;
      for (let bit = 0; bit < bits; bit += 1) {
        const [grey = 0] = pen.getImageData(((bit + 0.5) * width) / bits, 32, 1, 1).data;
        if (grey > 128) index |= 1 << bit;
      }
      return index;
    },
    { ...CLIP },
  );
}

function webm(chunks: readonly { readonly key: boolean; readonly bytes: Buffer }[], rateHz: number): Buffer {
  const timeMs = (index: number): number => Math.round((1000 * index) / rateHz);
  const clusters: Buffer[] = [];
  for (let from = 0; from < chunks.length; ) {
    let to = from + 1;
    while (to < chunks.length && chunks[to]?.key !== true) to += 1;
    const blocks = chunks.slice(from, to).map((chunk, at) => {
      const head = Buffer.from([0x81, 0, 0, chunk.key ? 0x80 : 0]);
      head.writeInt16BE(timeMs(from + at) - timeMs(from), 1);
      return element("a3", Buffer.concat([head, chunk.bytes]));
    });
    clusters.push(element("1f43b675", number("e7", timeMs(from)), ...blocks));
    from = to;
  }
  const duration = Buffer.alloc(8);
  duration.writeDoubleBE(timeMs(chunks.length));
  return Buffer.concat([
    element(
      "1a45dfa3",
      number("4286", 1),
      number("42f7", 1),
      number("42f2", 4),
      number("42f3", 8),
      element("4282", Buffer.from("webm")),
      number("4287", 4),
      number("4285", 2),
    ),
    element(
      "18538067",
      element("1549a966", number("2ad7b1", 1_000_000), element("4489", duration)),
      element(
        "1654ae6b",
        element(
          "ae",
          number("d7", 1),
          number("73c5", 1),
          number("83", 1),
          element("86", Buffer.from("V_VP8")),
          element("e0", number("b0", CLIP.width), number("ba", CLIP.height)),
        ),
      ),
      ...clusters,
    ),
  ]);
}

function number(id: string, value: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return element(id, bytes);
}

/** Identifier, an eight-byte length, contents. */
function element(id: string, ...contents: readonly Buffer[]): Buffer {
  const body = Buffer.concat(contents);
  const length = Buffer.alloc(8);
  length.writeBigUInt64BE(BigInt(body.length) | (1n << 56n));
  return Buffer.concat([Buffer.from(id, "hex"), length, body]);
}
