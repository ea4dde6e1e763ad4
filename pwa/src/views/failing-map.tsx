/** Cars against failures at a glance: the marks of the pairs, the loudest to the upper left. */
import type { JSX } from "preact";

import type { Recurrence } from "../wire";
import { sides } from "./failing-draw";
import { FailingTable } from "./failing-table";
import { MARKS } from "./failing-words";
import { t } from "../texts";

const MOST = 9;
const SIZE: Readonly<Record<Recurrence["signal"], number>> = { strong: 8, signal: 6, none: 3 };

/** The car and the words for the failure of a row; null where it is not counted by both. */
function pair(row: Recurrence): readonly [string, string] | null {
  const [car, ...failure] = Object.values(row.key);
  if (!car || failure.length === 0) return null;
  return [car, row.title.startsWith(`${car}, `) ? row.title.slice(car.length + 2) : failure.join(" / ")];
}

function Mark({ row }: { row: Recurrence }): JSX.Element {
  const strong = row.signal === "strong";
  return (
    <svg viewBox="0 0 20 20" width="20" height="20" role="img" aria-label={t().failingDrawn.seenAndMark(row.observed, MARKS[row.signal])}>
      <circle cx="10" cy="10" r={SIZE[row.signal]} fill={row.signal === "none" ? "none" : "var(--carbon)"} stroke="var(--ink)" stroke-width={strong ? 2 : 1} />
    </svg>
  );
}

export function FailingMap({ rows, onRow }: { rows: readonly Recurrence[]; onRow: (row: Recurrence) => void }): JSX.Element | null {
  const [cars, failures] = sides(rows, pair, MOST);
  if (cars.length < 2 || failures.length === 0) return null;
  const at = new Map(rows.map((row) => [JSON.stringify(pair(row)), row]));
  const loud = rows.filter((row) => row.signal !== "none").length;
  return (
    <figure>
      <figcaption>{t().failingDrawn.pairsStandOut(loud, rows.length)}</figcaption>
      <div style={{ overflowX: "auto" }} tabIndex={0} role="region" aria-label={t().failingDrawn.mapOfCars}>
        <table>
          <thead><tr><th scope="col">{t().heads.car}</th>{failures.map((each) => <th key={each} scope="col" style={{ fontWeight: 400, verticalAlign: "bottom", writingMode: "vertical-rl", textAlign: "left", maxHeight: "11rem" }}>{each}</th>)}</tr></thead>
          <tbody>
            {cars.map((car) => (
              <tr key={car}>
                <th scope="row" style={{ textAlign: "left", fontWeight: 400, whiteSpace: "nowrap", paddingRight: "0.5rem" }}>{car}</th>
                {failures.map((failure) => {
                  const row = at.get(JSON.stringify([car, failure]));
                  return <td key={failure}>{row && <button type="button" class="button quiet" style={{ padding: "0.2rem" }} aria-label={t().failingDrawn.monthByMonth(`${car}, ${failure}`)} onClick={() => onRow(row)}><Mark row={row} /></button>}</td>;
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <FailingTable of="map" heads={["car", "failure", "seen", "expected", "times", "mark"]} rows={rows.map((row) => [...(pair(row) ?? ["", ""]), row.observed, row.expected, row.ratio, MARKS[row.signal]])} />
    </figure>
  );
}
