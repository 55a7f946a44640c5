// Every address of the desk. Each screen is its own bundle, fetched when it is first opened.
import type { QueryClient } from "@tanstack/react-query";
import { createRootRouteWithContext, createRoute, createRouter, lazyRouteComponent } from "@tanstack/react-router";
import { commonWords } from "./strings/common.ts";
import { todayPlain } from "./data/client.ts";
import {
  attendanceQuery,
  baselineQuery,
  comparisonQuery,
  groupQuery,
  groupsQuery,
  planQuery,
  proposalQuery,
  recordingQuery,
  resultsQuery,
  rosterQuery,
  runnerQuery,
  settingsQuery,
  weekQuery,
} from "./data/queries.ts";
import { FIRST_ROSTER } from "./roster/roster-filter.ts";
import { BrokenPage } from "./shell/broken-page.tsx";
import { GroupLayout } from "./shell/group-layout.tsx";
import { RootLayout } from "./shell/root-layout.tsx";

interface RouteContext {
  readonly queries: QueryClient;
}

/** What a screen begins with is asked for while its script is still on the way. Nobody waits for it here. */
type Ask = Parameters<QueryClient["prefetchQuery"]>[0];
function ask({ queries }: RouteContext, ...wanted: readonly unknown[]): void {
  for (const one of wanted) void queries.prefetchQuery(one as Ask);
}

const root = createRootRouteWithContext<RouteContext>()({
  component: RootLayout,
  notFoundComponent: () => (
    <main id="page" className="page">
      <p>{commonWords.notFound}</p>
      <p>
        <a href="/">{commonWords.back}</a>
      </p>
    </main>
  ),
});

const setUp = createRoute({
  getParentRoute: () => root,
  path: "/set-up",
  component: lazyRouteComponent(() => import("./start/set-up.tsx"), "SetUp"),
});
const signIn = createRoute({
  getParentRoute: () => root,
  path: "/sign-in",
  component: lazyRouteComponent(() => import("./start/sign-in.tsx"), "SignIn"),
});
const groups = createRoute({
  getParentRoute: () => root,
  path: "/",
  loader: ({ context }) => ask(context, groupsQuery(false)),
  component: lazyRouteComponent(() => import("./groups/group-list.tsx"), "GroupList"),
});
const account = createRoute({
  getParentRoute: () => root,
  path: "/account",
  component: lazyRouteComponent(() => import("./start/account.tsx"), "AccountPage"),
});
const help = createRoute({
  getParentRoute: () => root,
  path: "/help",
  component: lazyRouteComponent(() => import("./help/help.tsx"), "HelpPage"),
});

const group = createRoute({
  getParentRoute: () => root,
  path: "/g/$groupId",
  loader: ({ context, params }) => ask(context, groupQuery(params.groupId), settingsQuery(params.groupId)),
  component: GroupLayout,
});
const evening = createRoute({
  getParentRoute: () => group,
  path: "/evening",
  validateSearch: (search: Record<string, unknown>): { part?: "count" | "attendance" | "lanes" } =>
    search["part"] === "attendance" || search["part"] === "lanes" || search["part"] === "count"
      ? { part: search["part"] }
      : {},
  loader: ({ context, params }) =>
    ask(context, rosterQuery(params.groupId), attendanceQuery(params.groupId, todayPlain())),
  component: lazyRouteComponent(() => import("./evening/evening.tsx"), "Evening"),
});
const week = createRoute({
  getParentRoute: () => group,
  path: "/week",
  validateSearch: (search: Record<string, unknown>): { on?: string } =>
    typeof search["on"] === "string" && /^\d{4}-\d{2}-\d{2}$/.test(search["on"]) ? { on: search["on"] } : {},
  loaderDeps: ({ search }) => ({ on: search.on }),
  loader: ({ context, params, deps }) => ask(context, weekQuery(params.groupId, deps.on)),
  component: lazyRouteComponent(() => import("./week/week.tsx"), "WeekPage"),
});
const roster = createRoute({
  getParentRoute: () => group,
  path: "/runners",
  loader: ({ context, params }) => ask(context, rosterQuery(params.groupId, FIRST_ROSTER)),
  component: lazyRouteComponent(() => import("./roster/roster.tsx"), "Roster"),
});
const rosterImport = createRoute({
  getParentRoute: () => group,
  path: "/import",
  component: lazyRouteComponent(() => import("./roster/import.tsx"), "RosterImport"),
});
const runner = createRoute({
  getParentRoute: () => group,
  path: "/runners/$runnerId",
  loader: ({ context, params: { runnerId } }) =>
    ask(
      context,
      runnerQuery(runnerId),
      comparisonQuery(runnerId),
      baselineQuery(runnerId),
      proposalQuery(runnerId),
      planQuery(runnerId),
    ),
  component: lazyRouteComponent(() => import("./runner/runner.tsx"), "RunnerPage"),
});
const runnerPrint = createRoute({
  getParentRoute: () => group,
  path: "/runners/$runnerId/print",
  component: lazyRouteComponent(() => import("./runner/print.tsx"), "RunnerPrint"),
});
const dateIn = (value: unknown): string | undefined =>
  typeof value === "string" && /^\d{4}-\d{2}-\d{2}$/.test(value) ? value : undefined;
const runnerCards = createRoute({
  getParentRoute: () => group,
  path: "/runners/$runnerId/cards",
  validateSearch: (search: Record<string, unknown>): { on?: string } => {
    const on = dateIn(search["on"]);
    return on === undefined ? {} : { on };
  },
  component: lazyRouteComponent(() => import("./cards/runner-cards.tsx"), "RunnerCards"),
});
const eveningPrint = createRoute({
  getParentRoute: () => group,
  path: "/print",
  validateSearch: (search: Record<string, unknown>): { on?: string; what?: "sheet" | "cards" } => {
    const on = dateIn(search["on"]);
    return { ...(on === undefined ? {} : { on }), ...(search["what"] === "cards" ? { what: "cards" as const } : {}) };
  },
  component: lazyRouteComponent(() => import("./cards/evening-print.tsx"), "EveningPrint"),
});
const practice = createRoute({
  getParentRoute: () => group,
  path: "/practice",
  component: lazyRouteComponent(() => import("./practice/practice.tsx"), "PracticePage"),
});
const handOuts = createRoute({
  getParentRoute: () => group,
  path: "/hand-outs",
  component: lazyRouteComponent(() => import("./hand-outs/hand-outs.tsx"), "HandOuts"),
});
const recording = createRoute({
  getParentRoute: () => group,
  path: "/runners/$runnerId/recordings/$recordingId",
  loader: ({ context, params: { runnerId, recordingId } }) =>
    ask(context, runnerQuery(runnerId), recordingQuery(runnerId, recordingId)),
  component: lazyRouteComponent(() => import("./recording/recording.tsx"), "RecordingPage"),
});
const video = createRoute({
  getParentRoute: () => group,
  path: "/runners/$runnerId/video",
  component: lazyRouteComponent(() => import("./video/video.tsx"), "VideoPage"),
});
const programme = createRoute({
  getParentRoute: () => group,
  path: "/programme",
  loader: ({ context, params }) => ask(context, resultsQuery(params.groupId)),
  component: lazyRouteComponent(() => import("./programme/programme.tsx"), "ProgrammePage"),
});
const settings = createRoute({
  getParentRoute: () => group,
  path: "/settings",
  component: lazyRouteComponent(() => import("./settings/settings.tsx"), "SettingsPage"),
});

const tree = root.addChildren([
  setUp,
  signIn,
  groups,
  account,
  help,
  group.addChildren([
    evening,
    week,
    roster,
    rosterImport,
    runner,
    runnerPrint,
    runnerCards,
    eveningPrint,
    practice,
    handOuts,
    recording,
    video,
    programme,
    settings,
  ]),
]);

export function createDeskRouter(queries: QueryClient) {
  return createRouter({
    context: { queries },
    routeTree: tree,
    defaultPreload: "intent",
    scrollRestoration: true,
    defaultErrorComponent: BrokenPage,
  });
}

declare module "@tanstack/react-router" {
  interface Register {
    router: ReturnType<typeof createDeskRouter>;
  }
}
