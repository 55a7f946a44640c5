// Turns the route table into routes: one entry, one handler, nothing else.
import type { Readable } from "node:stream";
import type { FastifyInstance, FastifyReply, FastifyRequest, FastifySchema, HTTPMethods } from "fastify";
import { ProblemDocumentSchema, type RouteContract, routes } from "../../api/index.ts";
import { authorise } from "./authorise.ts";
import type { FileAnswer, Handlers } from "./call.ts";
import type { Deps } from "./deps.ts";
import { PROBLEM_TYPE } from "./errors.ts";
import { sendFile } from "./send-file.ts";
import { createAnswerCheck } from "./validators.ts";

type AnyHandler = (call: object) => unknown;
declare module "fastify" {
  interface FastifyRequest {
    caller: object | null;
  }
}

/** Guesses are braked by address too, harder than other requests. */
const SLOW_ROUTES = new Set(["POST /api/session", "POST /api/session/code", "POST /api/setup"]);
const GUESSES_PER_MINUTE = 20;

export function registerRoutes(app: FastifyInstance, deps: Deps, handlers: Handlers): void {
  const check = deps.settings.checkAnswers === true ? createAnswerCheck() : undefined;
  app.decorateRequest("caller", null);
  const add = (into: FastifyInstance, key: string, contract: RouteContract): void => {
    const [method, url] = key.split(" ") as [HTTPMethods, string];
    const handler = handlers[key as keyof Handlers] as unknown as AnyHandler;
    into.route({
      method,
      url,
      schema: schemaOf(key, contract),
      ...(SLOW_ROUTES.has(key)
        ? {
            config: {
              rateLimit: {
                max: GUESSES_PER_MINUTE,
                timeWindow: "1 minute",
                keyGenerator: (request: FastifyRequest) => request.ip,
              },
            },
          }
        : {}),
      // Before the body is read: a stranger cannot make the server take in a file.
      onRequest: async (request) => {
        request.caller = await authorise(deps, request, contract.access);
      },
      handler: async (request: FastifyRequest, reply: FastifyReply) => {
        const answer = await handler({
          params: request.params,
          query: request.query,
          body: request.body,
          caller: request.caller,
          file: contract.fileBody === true ? (request.body as Readable) : undefined,
          request,
          reply,
        });
        if (contract.produces !== undefined) return sendFile(reply, answer as FileAnswer);
        const fault = check?.(contract.response, answer) ?? null;
        if (fault !== null) throw new TypeError(`${key} answered against its schema: ${fault}`);
        void reply.header("cache-control", "no-store").header("content-type", "application/json; charset=utf-8");
        return reply.send(answer);
      },
    });
  };
  const entries = Object.entries(routes) as [string, RouteContract][];
  for (const [key, contract] of entries) if (contract.fileBody !== true) add(app, key, contract);
  void app.register((files: FastifyInstance, _options: object, done: () => void) => {
    files.removeAllContentTypeParsers();
    files.addContentTypeParser("*", (_request, payload, next) => next(null, payload));
    for (const [key, contract] of entries) if (contract.fileBody === true) add(files, key, contract);
    done();
  });
}

const security: Readonly<Record<RouteContract["access"], { [name: string]: readonly string[] }[]>> = {
  public: [],
  "signed-in": [{ session: [] }],
  member: [{ session: [] }],
  coach: [{ session: [] }],
  owner: [{ session: [] }],
  runner: [{ runnerLink: [] }],
};

function schemaOf(key: string, contract: RouteContract): FastifySchema {
  const problem = { description: "Problem", content: { [PROBLEM_TYPE]: { schema: ProblemDocumentSchema } } };
  const good =
    contract.produces === undefined
      ? { description: "Done", content: { "application/json": { schema: contract.response } } }
      : {
          description: "The file",
          content: Object.fromEntries(contract.produces.map((type) => [type, { schema: contract.response }])),
        };
  return {
    summary: contract.summary,
    ...(contract.description === undefined ? {} : { description: contract.description }),
    tags: [contract.tag],
    operationId: key.replaceAll(/[^a-zA-Z]+/g, "-").toLowerCase(),
    security: security[contract.access],
    "x-access": contract.access,
    ...(contract.fileBody === true ? { consumes: ["application/octet-stream"] } : {}),
    ...(contract.params === undefined ? {} : { params: contract.params }),
    ...(contract.query === undefined ? {} : { querystring: contract.query }),
    ...(contract.body === undefined ? {} : { body: contract.body }),
    response: { 200: good, "4xx": problem, "5xx": problem },
  } as FastifySchema;
}
