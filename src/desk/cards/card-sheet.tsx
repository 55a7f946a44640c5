// One session as a card on paper: big target, rows, the step to aim for, and what to watch.
import { makeCard } from "../../engine/session/card.ts";
import type { Drill } from "../../engine/session/drill.ts";
import type { Session } from "../../engine/session/session.ts";
import { paceTable } from "../../engine/target/speed-curve.ts";
import type { Format } from "../../ui/words/format.ts";
import { cardWords as words } from "../strings/hand-outs.ts";
import { beltSpeedsKmh } from "./belt-speeds.ts";

export interface CardSheetProps {
  readonly session: Session;
  readonly runner: string;
  readonly on: string;
  readonly targetSpm: number | undefined;
  readonly baselineSpm: number;
  readonly speedMps: number | null;
  readonly speedExponent: number;
  readonly drills: readonly Drill[];
  readonly treadmill: boolean;
  readonly format: Format;
}

export function CardSheet(props: CardSheetProps) {
  const { format, speedMps, targetSpm } = props;
  const card = makeCard(props.session, {
    runner: props.runner,
    date: format.date(props.on),
    baselineSpm: props.baselineSpm,
    drills: props.drills,
    units: { feet: format.reading.feet, speed: format.reading.speed },
    ...(targetSpm === undefined ? {} : { targetSpm }),
    ...(speedMps === null ? {} : { speedMps }),
    ...(speedMps === null || targetSpm === undefined
      ? {}
      : { paceTable: paceTable(targetSpm, speedMps, { exponent: props.speedExponent }) }),
    ...(props.treadmill && speedMps !== null ? { beltSpeedsKmh: beltSpeedsKmh(speedMps) } : {}),
  });
  return (
    <article className="card-sheet">
      <header className="card-head">
        <div>
          <h2>{card.runner}</h2>
          <p className="muted">
            {card.date}, {card.title}
          </p>
        </div>
        {targetSpm !== undefined && (
          <p className="card-target">
            <strong>{format.beatValue(targetSpm)}</strong> <span className="muted">{format.rateUnit}</span>
            {speedMps !== null && <span className="muted block small">{format.speed(speedMps)}</span>}
          </p>
        )}
      </header>
      {card.stepLength !== "" && <p className="card-aim">{card.stepLength}</p>}
      <table className="table card-rows">
        <thead>
          <tr>
            <th scope="col">{words.column.what}</th>
            <th scope="col">{words.column.length}</th>
            <th scope="col">{words.column.beat}</th>
            <th scope="col">{words.column.note}</th>
          </tr>
        </thead>
        <tbody>
          {card.rows.map((row, index) => (
            // Two rows may read the same; their place tells them apart.
            // oxlint-disable-next-line react/no-array-index-key
            <tr key={index}>
              <th scope="row">
                {row.times > 1 && `${card.rows[index - 1]?.times === row.times ? words.next : words.times(row.times)} `}
                {row.what}
              </th>
              <td className="nowrap">{row.length}</td>
              <td>{row.beat}</td>
              <td>{row.note}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="card-tables">
        {card.paces.length > 0 && (
          <table className="table">
            <caption>{words.pace}</caption>
            <thead>
              <tr>
                <th scope="col">{words.paceColumn.speed}</th>
                <th scope="col">{words.paceColumn.rate}</th>
                <th scope="col">{words.paceColumn.length}</th>
              </tr>
            </thead>
            <tbody>
              {card.paces.map((pace) => (
                <tr key={pace.speed}>
                  <th scope="row">{pace.speed}</th>
                  <td>{pace.stepRate}</td>
                  <td>{pace.stepLength}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {card.treadmill && (
          <table className="table">
            <caption>{words.belt}</caption>
            <thead>
              <tr>
                <th scope="col">{words.beltColumn}</th>
                {card.treadmill.stepRates.map((rate) => (
                  <th key={rate} scope="col">
                    {words.beltSteps(rate)}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {card.treadmill.rows.map((row) => (
                <tr key={row.belt}>
                  <th scope="row">{row.belt}</th>
                  {row.stepLengths.map((length, index) => (
                    <td key={card.treadmill?.stepRates[index]}>{length}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </div>
      {card.drills.length > 0 && (
        <section className="card-drills">
          <h3>{words.drills}</h3>
          {card.drills.map((drill) => (
            <p key={drill.id}>
              <strong>{drill.name}.</strong> {drill.howTo} {words.feel} {drill.whatToFeel} {drill.cautions.join(" ")}
            </p>
          ))}
        </section>
      )}
      <footer className="card-cautions">
        {card.cautions.map((caution) => (
          <p key={caution}>{caution}</p>
        ))}
      </footer>
    </article>
  );
}
