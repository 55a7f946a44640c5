// The queue's writes in the browser's own database. A promise here resolves when the transaction is complete, not when it was asked for.
import type { QueuedWrite, QueueStorage } from "./queue.ts";

const STORE = "writes";

/** Opens (or makes) the database. `name` keeps different pages' queues apart. */
export async function openIndexedStorage(name: string): Promise<QueueStorage> {
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: "id" });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("The browser's database could not be opened."));
  });
  const change = (act: (store: IDBObjectStore) => void): Promise<void> =>
    new Promise((resolve, reject) => {
      const transaction = database.transaction(STORE, "readwrite", { durability: "strict" });
      act(transaction.objectStore(STORE));
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error ?? new Error("The browser refused to keep the entry."));
    });
  return {
    all: () =>
      new Promise((resolve, reject) => {
        const request = database.transaction(STORE, "readonly").objectStore(STORE).getAll();
        request.onsuccess = () => resolve(request.result as QueuedWrite[]);
        request.onerror = () => reject(request.error ?? new Error("The browser's database could not be read."));
      }),
    put: (write) => change((store) => store.put(write)),
    remove: (id) => change((store) => store.delete(id)),
  };
}

/** For tests, and for browsers that keep nothing (a private window): lives as long as the page. */
export function createMemoryStorage(initial: readonly QueuedWrite[] = []): QueueStorage {
  const kept = new Map(initial.map((write) => [write.id, write]));
  return {
    all: () => Promise.resolve([...kept.values()]),
    put: (write) => {
      kept.set(write.id, structuredClone(write));
      return Promise.resolve();
    },
    remove: (id) => {
      kept.delete(id);
      return Promise.resolve();
    },
  };
}
