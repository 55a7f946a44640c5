// What a phone holds, read from its own database: the files of its runs, byte for byte.
import type { Page } from "playwright-core";

export interface HeldRun {
  readonly id: string;
  readonly state: "recording" | "ended" | "sent";
  readonly pieceCount: number;
  readonly lastTimeMs: number;
  readonly text: string;
}

export function readHeldRuns(page: Page): Promise<readonly HeldRun[]> {
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("spondee-pocket");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(new Error("no database"));
    });
    const all = <T>(name: string): Promise<T[]> =>
      new Promise((resolve, reject) => {
        const request = database.transaction(name).objectStore(name).getAll();
        request.onsuccess = () => resolve(request.result as T[]);
        request.onerror = () => reject(new Error(`no ${name}`));
      });
    const runs = await all<HeldRun>("runs");
    const pieces = await all<{ runId: string; index: number; text: string }>("pieces");
    database.close();
    return runs.map((run) => ({
      ...run,
      text: pieces
        .filter((piece) => piece.runId === run.id)
        .sort((a, b) => a.index - b.index)
        .map((piece) => piece.text)
        .join(""),
    }));
  });
}
