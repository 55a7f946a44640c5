// A route as data: who may call it, what goes in, what comes out. Server, OpenAPI and client all read this.
import type { TSchema } from "typebox";

/** Who may call a route. Anything outside one's own groups is "not found", never "forbidden". */
export type Access =
  /** Anyone who can reach the server. */
  | "public"
  /** Any signed-in person. */
  | "signed-in"
  /** Coach or assistant of the group (or of the runner's group). */
  | "member"
  /** Coach of the group. */
  | "coach"
  /** The person who set the installation up, or whom they made owner. */
  | "owner"
  /** The phone page, with a live runner link. */
  | "runner";

export interface RouteContract {
  readonly summary: string;
  readonly description?: string;
  readonly tag: string;
  readonly access: Access;
  readonly params?: TSchema;
  readonly query?: TSchema;
  readonly body?: TSchema;
  /** The body is a file, streamed: `body` is absent. */
  readonly fileBody?: true;
  readonly response: TSchema;
  /** The answer is not JSON but one of these media types. */
  readonly produces?: readonly string[];
}

export function defineRoutes<const T extends Record<string, RouteContract>>(routes: T): T {
  return routes;
}
