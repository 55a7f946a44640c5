import { Link } from "@tanstack/react-router";
import { lazy, type ReactNode, Suspense, useEffect, useRef } from "react";
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

let firstPage = true;

/** The page itself. A newly opened page takes the focus, so that keys and screen readers start at its top. */
export function Page({ children, wide }: { readonly children: ReactNode; readonly wide?: boolean }) {
  const page = useRef<HTMLElement>(null);
  useEffect(() => {
    // The browser itself decides where the very first page begins.
    if (!firstPage) page.current?.focus({ preventScroll: true });
    firstPage = false;
  }, []);
  return (
    <main ref={page} id="page" tabIndex={-1} className={wide === true ? "page page-wide" : "page"}>
      {children}
    </main>
  );
}
