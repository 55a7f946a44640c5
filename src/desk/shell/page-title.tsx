import { commonWords } from "../strings/common.ts";

/** The page's heading, and the same in the browser's tab. */
export function PageTitle({ text }: { readonly text: string }) {
  return (
    <>
      <title>{`${text} · ${commonWords.product}`}</title>
      <h1>{text}</h1>
    </>
  );
}
