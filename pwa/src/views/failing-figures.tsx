/** The drawings of what keeps failing: map, intervals, and a row's months and life once it is tapped. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { Names } from "../model/failing-view";
import type { Life, Recurrences, Timeline } from "../wire";
import { At } from "./failing-at";
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
  odometerUnit: string;
  onRow: (key: Names) => void;
  onRows: () => void;
}

const BY_MONTH = "by-month";
export const goToMonths = (): void => void requestAnimationFrame(() => document.getElementById(BY_MONTH)?.scrollIntoView());

export function FailingFigures({ recurrences, timeline, life, odometerUnit, onRow, onRows }: FiguresProps): JSX.Element | null {
  const rows = recurrences?.rows ?? [];
  if (rows.length === 0) return null;
  const again = (): void => undefined;
  return (
    <At part="glance" says={t().failingSays.drawn}>
      <Bin title={t().failingDrawn.atAGlance} count={recurrences?.pairs}>
        <FailingMap rows={rows} onRow={(row) => onRow(row.key)} />
        <FailingIntervals rows={rows} />
        <div id={BY_MONTH} class="stack at">
          <Waiting tall of={timeline} words={t().failingDrawn.countingMonths} onRetry={again} />
          {timeline.value && <FailingMonths timeline={timeline.value} />}
          <Waiting of={life} words={t().failingDrawn.followingCars} onRetry={again} />
          {life.value && <FailingLife life={life.value} unit={odometerUnit} />}
        </div>
        <Button onTap={onRows}>{t().failingDrawn.saveAllRows}</Button>
      </Bin>
    </At>
  );
}
