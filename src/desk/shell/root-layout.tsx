// Who is there? Nobody yet: set up. Not signed in: sign in. Else the page.
import { useQuery } from "@tanstack/react-query";
import { Navigate, Outlet, useLocation } from "@tanstack/react-router";
import { Loaded } from "../controls/loaded.tsx";
import { sessionQuery, setupQuery } from "../data/queries.ts";
import { commonWords } from "../strings/common.ts";
import { takeHashCode } from "../start/hash-code.ts";
import { NoticeBar } from "./notice-bar.tsx";

export function RootLayout() {
  return (
    <>
      <a className="skip" href="#page">
        {commonWords.skipToContent}
      </a>
      <Door />
      <NoticeBar />
    </>
  );
}

const OPEN_PAGES: readonly string[] = ["/set-up", "/sign-in"];

function Door() {
  const { pathname } = useLocation();
  const session = useQuery(sessionQuery);
  const setup = useQuery({ ...setupQuery, enabled: session.data?.account === null });
  if (OPEN_PAGES.includes(pathname)) return <Outlet />;
  const hash = takeHashCode();
  if (hash) return <Navigate to={hash.kind === "sign-in" ? "/sign-in" : "/set-up"} replace />;
  return (
    <Loaded query={session}>
      {({ account }) => {
        if (account !== null) return <Outlet />;
        return (
          <Loaded query={setup}>
            {({ needsSetup }) => <Navigate to={needsSetup ? "/set-up" : "/sign-in"} replace />}
          </Loaded>
        );
      }}
    </Loaded>
  );
}
