import { Link } from "@tanstack/react-router";
import type { ReactNode } from "react";
import { commonWords } from "../strings/common.ts";
import { AccountMenu } from "./account-menu.tsx";
import { Mark } from "./mark.tsx";
import { OutboxMark } from "./outbox-mark.tsx";

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
        <AccountMenu />
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
