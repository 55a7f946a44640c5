import type { ReactNode } from "react";
import { PageTitle } from "../shell/page-title.tsx";
import { commonWords } from "../strings/common.ts";
import { Mark } from "../shell/mark.tsx";

/** The page before one is inside. */
export function Threshold({
  title,
  lead,
  children,
}: {
  readonly title: string;
  readonly lead?: string;
  readonly children: ReactNode;
}) {
  return (
    <main id="page" tabIndex={-1} className="threshold">
      <p className="brand">
        <Mark />
        {commonWords.product}
      </p>
      <PageTitle text={title} />
      {lead !== undefined && <p className="muted">{lead}</p>}
      {children}
    </main>
  );
}
