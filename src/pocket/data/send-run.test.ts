import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { PART_BYTES, type RunDoor, sendRunBytes } from "./send-run.ts";

type Fault = "none" | "lost-on-the-way" | "answer-lost";

/** A server that keeps parts as ours does, behind a line that loses requests and answers as told. */
function badLine(faults: readonly Fault[]) {
  let kept: number[] = [];
  let stored: readonly number[] | undefined;
  let carriedBytes = 0;
  let turn = 0;
  const over = async <T>(act: () => T): Promise<T> => {
    const fault = faults[turn] ?? "none";
    turn += 1;
    await Promise.resolve();
    if (fault === "lost-on-the-way") throw new Error("lost on the way");
    const answer = act();
    if (fault === "answer-lost") throw new Error("the answer was lost");
    return answer;
  };
  const door: RunDoor = {
    whole: (bytes) =>
      over(() => {
        carriedBytes += bytes.length;
        stored = [...bytes];
      }),
    arrived: () => over(() => ({ receivedBytes: kept.length, isStored: stored !== undefined })),
    part: (startByte, bytes) =>
      over(() => {
        carriedBytes += bytes.length;
        if (startByte === kept.length) kept = kept.concat([...bytes]);
        return { receivedBytes: kept.length };
      }),
    join: () =>
      over(() => {
        if (stored !== undefined) return;
        stored = kept;
        kept = [];
      }),
  };
  return { door, stored: () => stored, carriedBytes: () => carriedBytes };
}

const query = { fileName: "run.jsonl" };

describe("sending a run", () => {
  test("property: over any bad line the server has the run once, byte for byte, and no part went twice without need", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 5 * PART_BYTES }),
        fc.array(fc.constantFrom<Fault>("none", "none", "lost-on-the-way", "answer-lost"), { maxLength: 12 }),
        async (length, faults) => {
          const bytes = Uint8Array.from({ length }, (_, index) => (index * 31 + (index >> 9)) % 251);
          const line = badLine(faults);
          let tries = 0;
          for (let done = false; !done; tries += 1) {
            if (tries > faults.length) throw new Error("it never arrived");
            done = await sendRunBytes(line.door, bytes, query).then(
              () => true,
              () => false,
            );
          }
          const stored = line.stored() ?? [];
          expect(stored.length).toBe(length);
          expect(stored.every((byte, index) => byte === bytes[index])).toBe(true);
          // A part whose answer was lost is known to have arrived: it does not travel again.
          if (length > PART_BYTES) expect(line.carriedBytes()).toBe(length);
        },
      ),
      { seed: 70, numRuns: 60 },
    );
  });

  test("a server that keeps no part is asked again later, not for ever", async () => {
    const { door } = badLine([]);
    const deaf: RunDoor = { ...door, part: () => Promise.resolve({ receivedBytes: 0 }) };
    await expect(sendRunBytes(deaf, new Uint8Array(2 * PART_BYTES), query)).rejects.toThrow("kept no part");
  });

  test("closed form: one byte more than a part goes in two, a whole part goes as it is", async () => {
    for (const [length, parts] of [
      [PART_BYTES, 0],
      [PART_BYTES + 1, 2],
      [3 * PART_BYTES, 3],
    ] as const) {
      const { door } = badLine([]);
      let count = 0;
      const counting: RunDoor = {
        ...door,
        part: (startByte, bytes) => {
          count += 1;
          return door.part(startByte, bytes);
        },
      };
      await sendRunBytes(counting, new Uint8Array(length), query);
      expect(count).toBe(parts);
    }
  });
});
