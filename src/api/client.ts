// The typed client. Types come from the routes; no schema code reaches the browser.
import type { Static, TSchema } from "typebox";
import type { ProblemDocument } from "./schemas/common.ts";
import type { FileBody } from "./routes/params.ts";
import type { RouteKey, Routes } from "./routes/all.ts";

type Part<R, K extends string> = R extends { readonly [P in K]: infer S extends TSchema } ? Static<S> : undefined;
type IfGiven<K extends string, T> = T extends undefined
  ? unknown
  : Record<string, never> extends T
    ? { readonly [P in K]?: T }
    : { readonly [P in K]: T };

/** params, query, body and file of a route; only those it has, optional where nothing in them is required. */
export type CallInput<K extends RouteKey> = IfGiven<"params", Part<Routes[K], "params">> &
  IfGiven<"query", Part<Routes[K], "query">> &
  IfGiven<"body", Part<Routes[K], "body">> &
  (Routes[K] extends { readonly fileBody: true } ? { readonly file: unknown } : unknown) & {
    readonly signal?: unknown;
  };

export type CallOutput<K extends RouteKey> = Routes[K] extends { readonly produces: readonly string[] }
  ? FileBody
  : Part<Routes[K], "response">;

/** A refused or failed call: RFC 9457 as sent, or our own when nothing was reached (status 0, code "offline"). */
export class ApiError extends Error {
  override name = "ApiError";
  readonly problem: ProblemDocument;
  constructor(problem: ProblemDocument) {
    super(problem.detail ?? problem.title);
    this.problem = problem;
  }
}

/** The little of fetch that is used, so that this file needs no browser types. */
export interface FetchResponse {
  readonly ok: boolean;
  readonly status: number;
  readonly headers: { get(name: string): string | null };
  json(): Promise<unknown>;
  blob(): Promise<FileBody>;
}
export type Fetch = (
  address: string,
  init: { method: string; headers: Record<string, string>; body?: never; signal?: never; credentials: "same-origin" },
) => Promise<FetchResponse>;

export interface ClientOptions {
  readonly fetch: Fetch;
  /** "" on the same origin. */
  readonly baseUrl?: string;
  /** The runner link's token, for the phone page. */
  readonly bearer?: () => string | undefined;
}

export interface Client {
  /** `client.call("GET /api/groups/:groupId", { params: { groupId } })`; throws ApiError. */
  call<K extends RouteKey>(
    route: K,
    ...input: Record<string, never> extends CallInput<K> ? [CallInput<K>?] : [CallInput<K>]
  ): Promise<CallOutput<K>>;
  /** The address of a GET route, for links and downloads. */
  address<K extends RouteKey>(
    route: K,
    ...input: Record<string, never> extends CallInput<K> ? [CallInput<K>?] : [CallInput<K>]
  ): string;
}

interface AnyInput {
  readonly params?: Record<string, string>;
  readonly query?: Record<string, string | number | boolean | null | undefined>;
  readonly body?: unknown;
  readonly file?: unknown;
  readonly signal?: unknown;
}

/** Calls carry a header that no foreign page can set, so that a forged request is refused. */
export function createClient(options: ClientOptions): Client {
  const addressOf = (route: string, input: AnyInput): string => {
    const path = route.slice(route.indexOf(" ") + 1);
    const filled = path.replace(/:([a-zA-Z]+)/g, (_, name: string) => {
      const value = input.params?.[name];
      if (value === undefined) throw new TypeError(`${route}: parameter ${name} is missing`);
      return encodeURIComponent(value);
    });
    const pairs = Object.entries(input.query ?? {})
      .filter(([, value]) => value !== undefined && value !== null)
      .map(([name, value]) => `${encodeURIComponent(name)}=${encodeURIComponent(String(value))}`);
    return `${options.baseUrl ?? ""}${filled}${pairs.length > 0 ? `?${pairs.join("&")}` : ""}`;
  };

  const call = async (route: string, input: AnyInput = {}): Promise<unknown> => {
    const headers: Record<string, string> = { "x-spondee": "1", accept: "*/*" };
    const bearer = options.bearer?.();
    if (bearer !== undefined) headers["authorization"] = `Bearer ${bearer}`;
    let body: unknown;
    if (input.file !== undefined) {
      headers["content-type"] = "application/octet-stream";
      body = input.file;
    } else if (input.body !== undefined) {
      headers["content-type"] = "application/json";
      body = JSON.stringify(input.body);
    }
    let response: FetchResponse;
    try {
      response = await options.fetch(addressOf(route, input), {
        method: route.slice(0, route.indexOf(" ")),
        headers,
        credentials: "same-origin",
        ...(body === undefined ? {} : { body: body as never }),
        ...(input.signal === undefined ? {} : { signal: input.signal as never }),
      });
    } catch (cause) {
      if (cause instanceof Error && cause.name === "AbortError") throw cause;
      throw new ApiError(localProblem(0, "offline", "The server could not be reached."));
    }
    const isJson = (response.headers.get("content-type") ?? "").includes("json");
    if (!response.ok) {
      if (isJson) throw new ApiError((await response.json()) as ProblemDocument);
      throw new ApiError(localProblem(response.status, "unexpected", `The server answered ${response.status}.`));
    }
    return isJson ? response.json() : response.blob();
  };

  return {
    call: (route: RouteKey, input?: unknown) => call(route, input as AnyInput) as never,
    address: (route: RouteKey, input?: unknown) => addressOf(route, (input ?? {}) as AnyInput),
  } as Client;
}

function localProblem(status: number, code: string, detail: string): ProblemDocument {
  return { type: `urn:spondee:problem:${code}`, title: detail, status, code, detail };
}
