// What a handler is given: everything typed by the route's own schemas and by who may call it.
import type { Readable } from "node:stream";
import type { FastifyReply, FastifyRequest } from "fastify";
import type { Static, TSchema } from "typebox";
import type { RouteKey, Routes } from "../../api/index.ts";
import type { AccountRow } from "../../store/index.ts";

type Part<R, K extends string> = R extends { readonly [P in K]: infer S extends TSchema } ? Static<S> : undefined;

export interface MemberOf {
  readonly account: AccountRow;
  readonly groupId: string;
  readonly role: "coach" | "assistant";
}
export interface RunnerSide {
  readonly runnerId: string;
  readonly groupId: string;
  readonly linkId: string;
  readonly linkExpiresAt: string;
}

type Caller<A> = A extends "public"
  ? { readonly account: AccountRow | null }
  : A extends "signed-in" | "owner"
    ? { readonly account: AccountRow }
    : A extends "member" | "coach"
      ? MemberOf
      : A extends "runner"
        ? RunnerSide
        : never;

export interface Call<K extends RouteKey> {
  readonly params: Part<Routes[K], "params">;
  readonly query: Part<Routes[K], "query">;
  readonly body: Part<Routes[K], "body">;
  readonly caller: Caller<Routes[K]["access"]>;
  /** The body of a file route. */
  readonly file: Routes[K] extends { readonly fileBody: true } ? Readable : undefined;
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
}

/** A file to send: bytes as a stream, never as JSON. */
export interface FileAnswer {
  readonly stream: AsyncIterable<Uint8Array>;
  readonly mediaType: string;
  readonly fileName: string;
  readonly byteCount?: number;
  readonly inline?: boolean;
}

type Answer<K extends RouteKey> = Routes[K] extends { readonly produces: readonly string[] }
  ? FileAnswer
  : Part<Routes[K], "response">;

type Handler<K extends RouteKey> = (call: Call<K>) => Promise<Answer<K>> | Answer<K>;
export type Handlers<K extends RouteKey = RouteKey> = { readonly [P in K]: Handler<P> };
