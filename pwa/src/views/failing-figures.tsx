/** The drawings of what keeps failing: map, intervals, and a row's months and life once it is tapped. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { Life, Recurrence, Recurrences, Timeline } from "../wire";
import { FailingIntervals } from "./failing-intervals";
import { FailingLife } from "./failing-life";
import { FailingMap } from "./failing-map";
import { FailingMonths } from "./failing-months";
import { Waiting, type Loaded } from "./trouble";
import { t } from "../texts";

export interface FiguresProps {
  recurrences: Recurrences | null;
  timeline: Loaded<Timeline>;
  life: Loaded<Life>;
  by: string;
  odometerUnit: string;
  onRow: (key: Recurrence["key"]) => void;
  onFile: (path: string, name: string) => void;
}

export function FailingFigures({ recurrences, timeline, life, by, odometerUnit, onRow, onFile }: FiguresProps): JSX.Element | null {
  const rows = recurrences?.rows ?? [];
  if (rows.length === 0) return null;
  const again = (): void => undefined;
  return (
    <div class="place">
      <Bin title={t().failingDrawn.atAGlance} count={recurrences?.pairs}>
        <FailingMap rows={rows} onRow={(row) => onRow(row.key)} />
        <FailingIntervals rows={rows} />
        <Waiting of={timeline} words={t().failingDrawn.countingMonths} onRetry={again} />
        {timeline.value && <FailingMonths timeline={timeline.value} />}
        <Waiting of={life} words={t().failingDrawn.followingCars} onRetry={again} />
        {life.value && <FailingLife life={life.value} unit={odometerUnit} />}
        <Button onTap={() => onFile(`/recurrences/table?${new URLSearchParams({ by })}`, "recurrences.csv")}>{t().failingDrawn.saveAllRows}</Button>
        {rows[0] && <Button onTap={() => rows[0] && onRow(rows[0].key)}>{t().failingDrawn.firstRowByMonth}</Button>}
      </Bin>
    </div>
  );
}
