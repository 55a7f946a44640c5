// The HTTP application: walls first, then the routes. Tests call it in process with `app.inject`.
import cookie from "@fastify/cookie";
import helmet from "@fastify/helmet";
import rateLimit from "@fastify/rate-limit";
import swagger from "@fastify/swagger";
import Fastify, { type FastifyInstance } from "fastify";
import { createHandlers } from "../routes/handlers.ts";
import { hashSecret } from "../sign-in/secrets.ts";
import { sessionToken } from "../sign-in/sessions.ts";
import type { Deps } from "./deps.ts";
import { installErrors } from "./errors.ts";
import { refuseForgery } from "./forgery.ts";
import { servePages } from "./pages.ts";
import { refuseNul } from "./refuse-nul.ts";
import { registerRoutes } from "./register.ts";
import { installValidators } from "./validators.ts";

const MAX_JSON_BYTES = 2 * 1024 * 1024;

/** `https` makes the server speak HTTPS itself. */
export async function createApp(
  deps: Deps,
  https?: { readonly key: string; readonly cert: string },
): Promise<FastifyInstance> {
  const { settings, metrics } = deps;
  const app: FastifyInstance = Fastify({
    logger: false,
    trustProxy: settings.trustProxy,
    bodyLimit: MAX_JSON_BYTES,
    // A sender that dawdles is cut off: headers within 15 s, a request within 10 minutes (a large file on a slow line).
    requestTimeout: 600_000,
    ...(https === undefined ? { http: { headersTimeout: 15_000 } } : { https: { ...https, headersTimeout: 15_000 } }),
    keepAliveTimeout: 10_000,
    routerOptions: { maxParamLength: 100 },
    forceCloseConnections: "idle",
    return503OnClosing: true,
  });
  installErrors(app, deps);
  installValidators(app);
  await app.register(cookie);
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", "data:", "blob:"],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        // Beat tracks and a coach's own slow-motion clip are played from memory.
        mediaSrc: ["'self'", "blob:"],
        workerSrc: ["'self'"],
        manifestSrc: ["'self'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
        baseUri: ["'none'"],
      },
    },
    strictTransportSecurity: settings.secureCookies ? { maxAge: 31_536_000, includeSubDomains: false } : false,
    referrerPolicy: { policy: "no-referrer" },
    crossOriginResourcePolicy: { policy: "same-origin" },
    crossOriginOpenerPolicy: { policy: "same-origin" },
    xFrameOptions: { action: "deny" },
  });
  app.addHook("onSend", (_request, reply, payload, next) => {
    void reply.header(
      "permissions-policy",
      "accelerometer=(self), gyroscope=(self), geolocation=(self), screen-wake-lock=(self), autoplay=(self), camera=(), microphone=()",
    );
    next(null, payload);
  });
  // oxlint-disable-next-line require-await -- a hook that throws must be async to be caught
  app.addHook("onRequest", async (request) => refuseForgery(request, settings));
  // oxlint-disable-next-line require-await -- a hook that throws must be async to be caught
  app.addHook("preValidation", async (request) => refuseNul(request));
  await app.register(rateLimit, {
    max: settings.requestsPerMinute,
    timeWindow: "1 minute",
    // By person where there is one: an evening's laptop and the phones behind one address do not share a budget.
    keyGenerator: (request) => {
      const secret = sessionToken(deps, request) ?? request.headers.authorization;
      return secret === undefined ? request.ip : hashSecret(secret);
    },
  });
  await app.register(swagger, {
    openapi: {
      openapi: "3.1.0",
      info: {
        title: "Spondee",
        version: settings.version,
        description:
          "Step rates are steps per minute of both feet. Times are UTC. Every write carries an id made by the sender and may be sent again.",
      },
      components: {
        securitySchemes: {
          session: { type: "apiKey", in: "cookie", name: "spondee" },
          runnerLink: { type: "http", scheme: "bearer" },
        },
      },
    },
  });
  app.addHook("onResponse", (request, reply, done) => {
    const route = request.routeOptions.url ?? "none";
    metrics.request(route, request.method, reply.statusCode, reply.elapsedTime / 1000);
    deps.log.info("request", {
      request: request.id,
      method: request.method,
      route,
      status: reply.statusCode,
      ms: Math.round(reply.elapsedTime),
    });
    done();
  });
  await app.register((scope: FastifyInstance, _options: object, done: () => void) => {
    registerRoutes(scope, deps, createHandlers(deps));
    scope.get("/api/openapi.json", { schema: { hide: true } }, () => app.swagger());
    done();
  });
  await servePages(app, settings);
  await app.ready();
  return app;
}
