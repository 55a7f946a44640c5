// Which screen, and what stands above every one of them.
import { lazy, Suspense } from "react";
import { ConsentScreen } from "../consent/consent.tsx";
import { CountScreen } from "../count/count.tsx";
import { TapScreen } from "../count/tap.tsx";
import { TodayScreen } from "../today/today.tsx";
import { NoLink } from "./no-link.tsx";
import { useFrame, usePhone } from "./use-phone.tsx";

const LearnScreen = lazy(() => import("../beat/learn.tsx").then((part) => ({ default: part.LearnScreen })));
const ReadyScreen = lazy(() => import("../run/ready.tsx").then((part) => ({ default: part.ReadyScreen })));
const RunScreen = lazy(() => import("../run/run.tsx").then((part) => ({ default: part.RunScreen })));
const AfterScreen = lazy(() => import("../after/after.tsx").then((part) => ({ default: part.AfterScreen })));
const PainScreen = lazy(() => import("../after/pain.tsx").then((part) => ({ default: part.PainScreen })));
const KeptScreen = lazy(() => import("../kept/kept.tsx").then((part) => ({ default: part.KeptScreen })));

export function App() {
  const { screen } = useFrame();
  const { hasLink, today, consent } = usePhone();
  if (!hasLink || today === undefined) return <NoLink />;
  // Once, before anything else; afterwards from "What is kept".
  if (consent === undefined && screen.name !== "kept") return <ConsentScreen />;
  return (
    <Suspense fallback={<main aria-busy="true" />}>
      <ScreenOf />
    </Suspense>
  );
}

function ScreenOf() {
  const { screen } = useFrame();
  switch (screen.name) {
    case "today":
      return <TodayScreen />;
    case "consent":
      return <ConsentScreen />;
    case "count":
      return <CountScreen />;
    case "tap":
      return <TapScreen />;
    case "learn":
      return <LearnScreen {...idOf(screen)} />;
    case "ready":
      return <ReadyScreen {...idOf(screen)} />;
    case "run":
      return (
        <RunScreen
          {...idOf(screen)}
          {...(screen.resumeRunId === undefined ? {} : { resumeRunId: screen.resumeRunId })}
        />
      );
    case "after":
      return <AfterScreen {...(screen.runId === undefined ? {} : { runId: screen.runId })} />;
    case "pain":
      return <PainScreen />;
    case "kept":
      return <KeptScreen />;
  }
}

function idOf(screen: { readonly sessionId?: string }): { readonly sessionId?: string } {
  return screen.sessionId === undefined ? {} : { sessionId: screen.sessionId };
}
