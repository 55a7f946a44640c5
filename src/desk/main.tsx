// The coach's desk: providers around the routes.
import { MutationCache, QueryCache, QueryClient, QueryClientProvider } from "@tanstack/react-query";
import { RouterProvider } from "@tanstack/react-router";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import "@fontsource-variable/source-sans-3/wght.css";
import "../ui/style/tokens.css";
import "../ui/style/base.css";
import "../ui/style/controls.css";
import "./styles/shell.css";
import "./styles/over.css";
import { NoticesProvider } from "./data/notices.tsx";
import { statusOf } from "./data/problems.ts";
import { sessionQuery } from "./data/queries.ts";
import { refreshWhenStored } from "./data/refresh-when-stored.ts";
import { createDeskRouter } from "./routes.tsx";
import { fetchDialogsLater } from "./controls/dialog.tsx";
import { keepShell } from "./shell/keep-shell.ts";

/** A session that ran out shows the sign-in page; what waits in the outbox is sent after it. */
function noticeSignedOut(error: Error): void {
  if (statusOf(error) === 401) queries.setQueryData(sessionQuery.queryKey, { account: null });
}

const queries: QueryClient = new QueryClient({
  queryCache: new QueryCache({ onError: noticeSignedOut }),
  mutationCache: new MutationCache({ onError: noticeSignedOut }),
  defaultOptions: {
    queries: {
      staleTime: 5000,
      gcTime: 30 * 60_000,
      networkMode: "always",
      // A clear refusal does not get better by asking again.
      retry: (count, error) => count < 2 && ![400, 401, 403, 404, 409, 422].includes(statusOf(error) ?? 0),
      retryDelay: (attempt) => 400 * 2 ** attempt,
    },
    mutations: { networkMode: "always" },
  },
});
refreshWhenStored(queries);
const router = createDeskRouter(queries);
const app = document.getElementById("app");
if (app)
  createRoot(app).render(
    <StrictMode>
      <QueryClientProvider client={queries}>
        <NoticesProvider>
          <RouterProvider router={router} />
        </NoticesProvider>
      </QueryClientProvider>
    </StrictMode>,
  );
keepShell();
fetchDialogsLater();
