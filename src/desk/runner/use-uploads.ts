// Many files at once: one after the other, each with its own outcome. The id is made before sending, so a retry stores nothing twice.
import { useQueryClient } from "@tanstack/react-query";
import { useRef, useState } from "react";
import type { UploadOutcome } from "../../api/index.ts";
import { api, makeId } from "../data/client.ts";
import { sentencesOf } from "../data/problems.ts";

export type UploadPhase = "before" | "during" | "after" | "unsorted";
export type UploadSurface = "outdoor" | "treadmill" | "unknown";

export interface Upload {
  readonly id: string;
  readonly fileName: string;
  readonly state: "waiting" | "sending" | "stored" | "duplicate" | "failed";
  readonly recording?: UploadOutcome["recording"];
  readonly why?: string;
}

export interface Uploads {
  readonly items: readonly Upload[];
  readonly add: (files: readonly File[], phase: UploadPhase, surface: UploadSurface) => void;
  readonly retry: (id: string) => void;
  readonly clear: () => void;
}

interface Job {
  readonly id: string;
  readonly file: File;
  readonly phase: UploadPhase;
  readonly surface: UploadSurface;
}

export function useUploads(runnerId: string): Uploads {
  const queries = useQueryClient();
  const [items, setItems] = useState<readonly Upload[]>([]);
  const jobs = useRef<Map<string, Job>>(new Map());
  const line = useRef(Promise.resolve());
  const set = (id: string, change: Partial<Upload>): void =>
    setItems((all) => all.map((one) => (one.id === id ? { ...one, ...change } : one)));

  const send = async (job: Job): Promise<void> => {
    set(job.id, { state: "sending" });
    try {
      const answer = await api.call("PUT /api/runners/:runnerId/recordings/:recordingId", {
        params: { runnerId, recordingId: job.id },
        query: { fileName: job.file.name, phase: job.phase, surface: job.surface, ...(await checksum(job.file)) },
        file: job.file,
      });
      set(job.id, { state: answer.outcome === "duplicate" ? "duplicate" : "stored", recording: answer.recording });
      jobs.current.delete(job.id);
    } catch (error) {
      set(job.id, { state: "failed", why: sentencesOf(error).join(" ") });
    }
    await queries.invalidateQueries({ queryKey: ["runner", runnerId] });
  };
  const enqueue = (job: Job): void => {
    line.current = line.current.then(() => send(job));
  };
  return {
    items,
    add: (files, phase, surface) => {
      const fresh = files.map((file): Job => ({ id: makeId(), file, phase, surface }));
      setItems((all) => [
        ...all,
        ...fresh.map((job): Upload => ({ id: job.id, fileName: job.file.name, state: "waiting" })),
      ]);
      for (const job of fresh) {
        jobs.current.set(job.id, job);
        enqueue(job);
      }
    },
    retry: (id) => {
      const job = jobs.current.get(id);
      if (job) enqueue(job);
    },
    clear: () => setItems((all) => all.filter((one) => one.state === "waiting" || one.state === "sending")),
  };
}

const LARGEST_HASHED_BYTES = 64 * 1024 * 1024;

/** What was read here is what must arrive there. Left out where the browser has no digest (plain http) or the file is very large. */
async function checksum(file: File): Promise<{ readonly sha256?: string }> {
  if (!isSecureContext || file.size > LARGEST_HASHED_BYTES) return {};
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await file.arrayBuffer()));
  return { sha256: Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("") };
}
