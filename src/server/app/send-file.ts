// Sends bytes as they are made; the name is quoted so that no header can be smuggled in.
import { Readable } from "node:stream";
import type { FastifyReply } from "fastify";
import type { FileAnswer } from "./call.ts";

export function sendFile(reply: FastifyReply, answer: FileAnswer): FastifyReply {
  const { mediaType, fileName, byteCount } = answer;
  void reply
    .header("content-type", mediaType)
    .header("content-disposition", disposition(fileName, answer.inline ?? false));
  void reply.header("cache-control", "private, no-store");
  if (byteCount !== undefined) void reply.header("content-length", byteCount);
  return reply.send(Readable.from(answer.stream, { objectMode: false, highWaterMark: 64 * 1024 }));
}

/** RFC 6266 with an ASCII name for old programs and RFC 8187 for the rest. */
export function disposition(fileName: string, inline: boolean): string {
  // oxlint-disable-next-line no-control-regex -- they are what must not pass
  const clean = Array.from(fileName.replaceAll(/[\u0000-\u001f\u007f"\\/]/g, "_").replaceAll(/\p{Surrogate}/gu, "_"))
    .slice(0, 200)
    .join("");
  const ascii = clean.replaceAll(/[^\u0020-\u007e]/g, "_");
  const encoded = encodeURIComponent(clean).replaceAll(
    /['()*]/g,
    (character) => `%${character.charCodeAt(0).toString(16)}`,
  );
  return `${inline ? "inline" : "attachment"}; filename="${ascii}"; filename*=UTF-8''${encoded}`;
}

export async function* onePiece(text: string | Uint8Array): AsyncGenerator<Uint8Array> {
  yield await Promise.resolve(typeof text === "string" ? Buffer.from(text, "utf8") : text);
}
