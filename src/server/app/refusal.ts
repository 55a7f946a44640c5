// How a request is refused: one class, one shape on the wire (RFC 9457).
import type { ProblemDocument } from "../../api/index.ts";
import type { Problem } from "../../engine/quantities/problem.ts";

export class Refusal extends Error {
  override name = "Refusal";
  readonly status: number;
  readonly code: string;
  readonly problems: readonly Problem[];
  constructor(status: number, code: string, message: string, problems: readonly Problem[] = []) {
    super(message);
    this.status = status;
    this.code = code;
    this.problems = problems;
  }
}

const titles: Readonly<Record<number, string>> = {
  400: "The request is not understood",
  401: "Sign in first",
  403: "Not allowed",
  404: "Not found",
  409: "In conflict with what is stored",
  413: "Too large",
  415: "Not a kind of content that is read here",
  421: "Not served under this name",
  422: "The content cannot be used",
  429: "Too many requests",
  500: "Something went wrong here",
  503: "Not ready",
};

export function problemDocument(
  status: number,
  code: string,
  detail: string,
  requestId: string,
  problems: readonly Problem[] = [],
): ProblemDocument {
  return {
    type: `urn:spondee:problem:${code}`,
    title: titles[status] ?? "The request failed",
    status,
    code,
    detail,
    instance: requestId,
    ...(problems.length === 0 ? {} : { problems: problems.map((problem) => ({ ...problem })) }),
  };
}

export const notFound = (what: string): Refusal => new Refusal(404, "not-found", `There is no such ${what}.`);
export const unusable = (message: string, problems: readonly Problem[]): Refusal =>
  new Refusal(422, problems[0]?.code ?? "not-usable", message, problems);
