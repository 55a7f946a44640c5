// Thirty numbers in two minutes: one field each, Enter and the arrows move, everything is kept as it is typed.
import { type KeyboardEvent, useRef } from "react";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { useOutbox } from "../data/outbox.ts";
import { clockWords, entryWords } from "../strings/evening.ts";
import { type CountSetup, contradicts, type Entry, type Judgement, judge, parseLapTime } from "./entry-model.ts";
import { currentRound, type Round } from "./sheet-model.ts";
import type { SheetHandle } from "./use-sheet.ts";

export interface EntryGridProps {
  readonly runners: readonly { readonly id: string; readonly name: string }[];
  readonly handle: SheetHandle;
  readonly format: Format;
}

export function EntryGrid({ runners, handle, format }: EntryGridProps) {
  const list = useRef<HTMLUListElement>(null);
  const outbox = useOutbox();
  const waiting = new Set(outbox.waiting.map((write) => write.id));
  const refused = new Set(outbox.refused.map(({ write }) => write.id));
  const whereIs = (entry: Entry): Whereabouts => {
    if (waiting.has(entry.id)) return "kept";
    if (refused.has(entry.id)) return "refused";
    return handle.isGiven(entry) ? "sent" : "typing";
  };
  const { rounds } = handle.sheet;
  const { setup, entries: round } = currentRound(handle.sheet);
  const done = runners.filter((runner) => judge(round[runner.id] ?? BLANK, setup).kind === "fine").length;
  const move = (from: HTMLInputElement, by: number): void => {
    const kind = from.dataset["count"] === undefined ? "lap" : "count";
    const inputs = [...(list.current?.querySelectorAll<HTMLInputElement>(`input[data-${kind}]`) ?? [])];
    const next = inputs[inputs.indexOf(from) + by];
    next?.focus();
    next?.select();
  };
  // The question goes with its answer, and the focus must not go with it.
  const goOn = (): void => {
    const inputs = [...(list.current?.querySelectorAll<HTMLInputElement>("input[data-count]") ?? [])];
    (inputs.find((input) => input.value === "") ?? inputs.at(-1))?.focus();
  };
  const onKey = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.key === "Enter" || event.key === "ArrowDown") {
      event.preventDefault();
      move(event.currentTarget, 1);
    } else if (event.key === "ArrowUp") {
      event.preventDefault();
      move(event.currentTarget, -1);
    }
  };
  return (
    <section aria-labelledby="entry-title">
      <div className="entry-head">
        <h2 id="entry-title">{entryWords.heading}</h2>
        <output>{entryWords.progress(done, runners.length)}</output>
        <span className="muted entry-hint">{entryWords.hint}</span>
      </div>
      <ul className="entry-list" ref={list}>
        {runners.map((runner) => (
          <EntryRow
            key={runner.id}
            runner={runner}
            entry={round[runner.id] ?? BLANK}
            earlier={rounds.slice(0, -1).flatMap((one) => earlierOf(one, runner.id))}
            setup={setup}
            handle={handle}
            format={format}
            where={whereIs(round[runner.id] ?? BLANK)}
            onKey={onKey}
            onAnswered={goOn}
          />
        ))}
      </ul>
    </section>
  );
}

type Whereabouts = "typing" | "kept" | "sent" | "refused";

const BLANK: Entry = { id: "", text: "", lapText: "", confirmed: false, measuredAt: "" };

interface Earlier {
  readonly entry: Entry;
  readonly setup: CountSetup;
}

function earlierOf(round: Round, runnerId: string): readonly Earlier[] {
  const entry = round.entries[runnerId];
  return entry === undefined || entry.text === "" ? [] : [{ entry, setup: round.setup }];
}

interface EntryRowProps {
  readonly runner: { readonly id: string; readonly name: string };
  readonly entry: Entry;
  readonly earlier: readonly Earlier[];
  readonly setup: CountSetup;
  readonly handle: SheetHandle;
  readonly format: Format;
  readonly where: Whereabouts;
  readonly onKey: (event: KeyboardEvent<HTMLInputElement>) => void;
  readonly onAnswered: () => void;
}

function EntryRow({ runner, entry, earlier, setup, handle, format, where, onKey, onAnswered }: EntryRowProps) {
  const judged = judge(entry, setup);
  const before = earlier.at(-1);
  const against = before && judge(before.entry, before.setup);
  const disputed = against !== undefined && contradicts(judged, against);
  const asks = judged.kind !== "empty" && judged.kind !== "fine";
  const noteId = `note-${runner.id}`;
  const lapBad =
    setup.lapLengthM !== undefined && entry.lapText.trim() !== "" && parseLapTime(entry.lapText) === undefined;
  return (
    <li className={asks || disputed ? "entry entry-asks" : "entry"}>
      <span className="entry-name">
        {runner.name}
        {before && <span className="muted small"> {entryWords.earlier(before.entry.text)}</span>}
      </span>
      {setup.lapLengthM !== undefined && (
        <input
          className="input entry-lap"
          data-lap=""
          inputMode="numeric"
          autoComplete="off"
          placeholder="0:00"
          aria-label={entryWords.lapTime(runner.name)}
          aria-invalid={lapBad}
          value={entry.lapText}
          onKeyDown={onKey}
          onChange={(event) => handle.typeLap(runner.id, event.target.value)}
          onBlur={() => handle.keep(runner.id)}
        />
      )}
      <input
        className="input entry-count"
        data-count=""
        inputMode={setup.way === "contacts-in-time" ? "numeric" : "decimal"}
        autoComplete="off"
        enterKeyHint="next"
        maxLength={6}
        aria-label={setup.way === "contacts-in-time" ? entryWords.count(runner.name) : entryWords.time(runner.name)}
        aria-invalid={asks}
        aria-describedby={noteId}
        value={entry.text}
        onKeyDown={onKey}
        onChange={(event) => handle.type(runner.id, event.target.value)}
        onBlur={() => handle.keep(runner.id)}
      />
      <span className="entry-note" id={noteId}>
        {judged.kind === "fine" && !disputed && (
          <>
            {entryWords.rate(format.rateValue(judged.rate.estimate), format.rateValue(judged.rate.standardError, 1))}{" "}
            {where === "kept" && <span className="muted">↑ {entryWords.kept}</span>}
            {where === "refused" && <span>! {entryWords.refused}</span>}
            {where === "sent" && (
              <span className="muted">
                <span aria-hidden="true">✓</span>
                <span className="visually-hidden">{entryWords.sent}</span>
              </span>
            )}
          </>
        )}
        <Question
          judged={judged}
          onAnswer={(answer) => {
            handle.answer(runner.id, answer);
            onAnswered();
          }}
          notNumber={setup.way === "contacts-in-time" ? entryWords.asked.notNumber : entryWords.asked.notTime}
        />
        {disputed && entryWords.asked.disagree(before?.entry.text ?? "", entry.text)}
        {lapBad && entryWords.lapNotTime}
      </span>
    </li>
  );
}

function Question({
  judged,
  onAnswer,
  notNumber,
}: {
  readonly judged: Judgement;
  readonly onAnswer: (answer: Parameters<SheetHandle["answer"]>[1]) => void;
  readonly notNumber: string;
}) {
  const asked = entryWords.asked;
  switch (judged.kind) {
    case "empty":
    case "fine":
      return null;
    case "not-a-number":
      return notNumber;
    case "impossible":
      return judged.message;
    case "other-feet": {
      const likely = judged.likely;
      return (
        <span className="entry-question" role="alert">
          {asked.otherFeet(
            String(Math.round(judged.contactsPerMinute)),
            likely === "both" ? clockWords.bothFeet : clockWords.oneFoot,
          )}
          <span className="row">
            <Button onClick={() => onAnswer({ feet: likely })}>
              {likely === "both" ? asked.itWasBoth : asked.itWasOne}
            </Button>
            <Button onClick={() => onAnswer({ confirmed: true })}>{asked.keepIt}</Button>
          </span>
        </span>
      );
    }
    case "implausible":
      return (
        <span className="entry-question" role="alert">
          {asked.implausible(String(Math.round(judged.contactsPerMinute)), String(judged.low), String(judged.high))}
          <Button onClick={() => onAnswer({ confirmed: true })}>{asked.keepIt}</Button>
        </span>
      );
  }
}
