// Every failure leaves as a problem document. What went wrong inside stays in the log, under the request's id.
import type { FastifyError, FastifyInstance } from "fastify";
import type { Problem } from "../../engine/quantities/problem.ts";
import { codeOf } from "../../store/index.ts";
import type { Deps } from "./deps.ts";
import { pageFor } from "./pages.ts";
import { problemDocument, Refusal } from "./refusal.ts";

export const PROBLEM_TYPE = "application/problem+json";
const MOST_PROBLEMS = 20;

export function installErrors(app: FastifyInstance, deps: Deps): void {
  app.setErrorHandler<FastifyError>((error, request, reply) => {
    const { status, code, detail, problems } = explain(error);
    if (status >= 500)
      deps.log.error("request failed", { request: request.id, route: request.routeOptions.url, error });
    // What is still on its way of a refused body is not waited for.
    if (status === 413) void reply.header("connection", "close");
    if (status === 429) void reply.header("retry-after", "60");
    return reply
      .code(status)
      .header("content-type", PROBLEM_TYPE)
      .send(JSON.stringify(problemDocument(status, code, detail, request.id, problems)));
  });
  app.setNotFoundHandler((request, reply) => {
    const page = pageFor(request, deps.settings);
    if (page !== undefined) return reply.header("cache-control", "no-cache").sendFile("index.html", page);
    return reply
      .code(404)
      .header("content-type", PROBLEM_TYPE)
      .send(JSON.stringify(problemDocument(404, "not-found", "There is nothing at this address.", request.id)));
  });
}

interface Explained {
  readonly status: number;
  readonly code: string;
  readonly detail: string;
  readonly problems: readonly Problem[];
}

function explain(error: FastifyError | Refusal): Explained {
  if (error instanceof Refusal)
    return { status: error.status, code: error.code, detail: error.message, problems: error.problems };
  if (error.validation !== undefined) {
    const problems = error.validation.slice(0, MOST_PROBLEMS).map((issue) => ({
      code: "field-not-valid",
      where: { field: fieldOf(error.validationContext, issue) },
      got: "something else",
      expected: issue.message ?? "a valid value",
      remedy: "Correct the field and send it again.",
    }));
    return { status: 400, code: "not-valid", detail: "Some fields are missing or not valid.", problems };
  }
  if (isDiskFull(error) || isDiskFull(error.cause))
    return {
      status: 507,
      code: "disk-full",
      detail: "The disk of the server is full. Nothing was stored.",
      problems: [],
    };
  const status = error.statusCode ?? 500;
  if (status >= 500)
    return {
      status: 500,
      code: "internal",
      detail: "Nothing was changed. The log has the details under this id.",
      problems: [],
    };
  const known: Readonly<Record<string, string>> = {
    FST_ERR_CTP_BODY_TOO_LARGE: "too-large",
    FST_ERR_CTP_INVALID_MEDIA_TYPE: "media-type",
    FST_ERR_CTP_INVALID_JSON_BODY: "not-json",
    FST_ERR_CTP_EMPTY_JSON_BODY: "not-json",
  };
  const code = known[error.code] ?? (status === 429 ? "too-many-requests" : status === 413 ? "too-large" : "not-valid");
  return { status, code, detail: error.message, problems: [] };
}

function isDiskFull(error: unknown): boolean {
  return ["ENOSPC", "EDQUOT", "SQLITE_FULL"].includes(codeOf(error));
}

function fieldOf(context: string | undefined, issue: NonNullable<FastifyError["validation"]>[number]): string {
  const missing = issue.params["missingProperty"] ?? issue.params["additionalProperty"];
  const path = issue.instancePath.replaceAll("/", ".").replace(/^\./, "");
  return [context, path === "" ? undefined : path, typeof missing === "string" ? missing : undefined]
    .filter((part) => part !== undefined && part !== "body")
    .join(".");
}
