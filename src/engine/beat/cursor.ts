// For live sound: the events of the next moment, again and again, on whatever clock plays them.
import { beatEvents } from "./events.ts";
import { type BeatEvent, type BeatSchedule } from "./schedule.ts";

export interface BeatCursor {
  /**
   * Events with fromS ≤ timeS < toS, in order. O(log segments + events found), from anywhere: asking twice gives the
   * same answer, and windows that meet neither lose nor repeat a beat.
   */
  between(fromS: number, toS: number): readonly BeatEvent[];
}

export function createBeatCursor(schedule: BeatSchedule): BeatCursor {
  return {
    between(fromS, toS) {
      const found: BeatEvent[] = [];
      for (const event of beatEvents(schedule, fromS)) {
        if (event.timeS >= toS) break;
        found.push(event);
      }
      return found;
    },
  };
}
