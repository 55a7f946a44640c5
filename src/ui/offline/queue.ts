// Writes that must not be lost: kept on this device until the server says it has them. Everything sent carries an id made here,
// so that sending twice stores once. Oldest first; one sender at a time.

export interface QueuedWrite {
  /** The id of the thing that is written; also the key here, so that a later version of the same thing replaces the earlier. */
  readonly id: string;
  /** What to do with it; the sender knows. */
  readonly kind: string;
  readonly payload: unknown;
  readonly queuedAtMs: number;
}

export type SendOutcome =
  | { readonly kind: "stored" }
  /** The server cannot be reached or is busy: keep it and try later. */
  | { readonly kind: "later" }
  /** The server understood and refused: keep it aside for a person to look at. */
  | { readonly kind: "refused"; readonly because: string };

/** Where the writes are kept. `put` and `remove` resolve only when the change is safe. */
export interface QueueStorage {
  all(): Promise<readonly QueuedWrite[]>;
  put(write: QueuedWrite): Promise<void>;
  remove(id: string): Promise<void>;
}

export interface QueueState {
  readonly waiting: readonly QueuedWrite[];
  readonly refused: readonly { readonly write: QueuedWrite; readonly because: string }[];
  readonly sending: boolean;
}

export interface OfflineQueue {
  /** Resolves when the write is safe on this device, which is before it is sent. */
  add(write: QueuedWrite): Promise<void>;
  /** Sends what waits; stops at the first that cannot be sent now. */
  flush(): Promise<void>;
  /** Gives up a refused or waiting write. */
  drop(id: string): Promise<void>;
  state(): QueueState;
  subscribe(listener: () => void): () => void;
}

export interface QueueOptions {
  readonly storage: QueueStorage;
  readonly send: (write: QueuedWrite) => Promise<SendOutcome>;
  /** Runs `work` while no other page of ours sends; the browser's lock manager, or plain calling where there is none. */
  readonly exclusively?: (work: () => Promise<void>) => Promise<void>;
}

export async function createOfflineQueue(options: QueueOptions): Promise<OfflineQueue> {
  const { storage, send } = options;
  const exclusively = options.exclusively ?? ((work: () => Promise<void>) => work());
  const refusals = new Map<string, string>();
  const listeners = new Set<() => void>();
  let kept = sortByAge(await storage.all());
  let sending = false;
  let again = false;
  let state = makeState();

  function makeState(): QueueState {
    return {
      waiting: kept.filter((write) => !refusals.has(write.id)),
      refused: kept.flatMap((write) => {
        const because = refusals.get(write.id);
        return because === undefined ? [] : [{ write, because }];
      }),
      sending,
    };
  }

  function changed(): void {
    state = makeState();
    for (const listener of listeners) listener();
  }

  async function reload(): Promise<void> {
    kept = sortByAge(await storage.all());
    changed();
  }

  async function sendWaiting(): Promise<void> {
    // Another page may have sent some of these while we waited for our turn.
    await reload();
    for (const write of state.waiting) {
      const outcome = await send(write);
      if (outcome.kind === "later") return;
      if (outcome.kind === "refused") refusals.set(write.id, outcome.because);
      // A newer version may have been queued while this one was on its way: that one stays.
      else if (kept.find((one) => one.id === write.id)?.queuedAtMs === write.queuedAtMs) await storage.remove(write.id);
      await reload();
    }
  }

  async function flush(): Promise<void> {
    if (sending) {
      again = true;
      return;
    }
    sending = true;
    changed();
    try {
      do {
        again = false;
        await exclusively(sendWaiting);
      } while (again);
    } finally {
      sending = false;
      changed();
    }
  }

  return {
    add: async (write) => {
      await storage.put(write);
      refusals.delete(write.id);
      await reload();
    },
    flush,
    drop: async (id) => {
      await storage.remove(id);
      refusals.delete(id);
      await reload();
    },
    state: () => state,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

function sortByAge(writes: readonly QueuedWrite[]): readonly QueuedWrite[] {
  return [...writes].sort((a, b) => a.queuedAtMs - b.queuedAtMs || (a.id < b.id ? -1 : 1));
}
