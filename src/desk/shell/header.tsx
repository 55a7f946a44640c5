import { Link } from "@tanstack/react-router";
import { lazy, type ReactNode, Suspense } from "react";
import { commonWords } from "../strings/common.ts";
import { Mark } from "./mark.tsx";
import { OutboxMark } from "./outbox-mark.tsx";

const AccountMenu = lazy(() => import("./account-menu.tsx").then((part) => ({ default: part.AccountMenu })));

export function Header({ children, where }: { readonly children?: ReactNode; readonly where?: ReactNode }) {
  return (
    <header className="head no-print">
      <Link to="/" className="brand">
        <Mark />
        {commonWords.product}
      </Link>
      {children}
      <div className="head-right">
        {where}
        <OutboxMark />
        <Suspense fallback={<span className="account-place" />}>
          <AccountMenu />
        </Suspense>
      </div>
    </header>
  );
}

/** The page itself; a new page starts at its top and takes the focus from the skip link. */
export function Page({ children, wide }: { readonly children: ReactNode; readonly wide?: boolean }) {
  return (
    <main id="page" tabIndex={-1} className={wide === true ? "page page-wide" : "page"}>
      {children}
    </main>
  );
}
