/** What is counted by, in what time, of which cars and failures. */
import type { JSX } from "preact";
import { useId } from "preact/hooks";

import { NAMES, USUAL, type FailingView, type Name, type Names } from "../model/failing-view";
import { Button } from "../ui/button";
import { PickOne, PickSome } from "../ui/chips";
import { Select } from "../ui/field";
import type { Trade } from "../wire";
import { KeptFold } from "./failing-kept";
import { valueWords } from "./failing-words";
import { t } from "../texts";

export interface FilterProps {
  view: FailingView;
  /** Values met of each name, to choose from. */
  known: Readonly<Partial<Record<Name, readonly string[]>>>;
  trade: Trade;
  onView: (change: Partial<FailingView>) => void;
  onLink: () => void;
}

const BY = [
  { value: "model,system", get label() { return t().failing.byModelAndSystem; } },
  { value: "model,component", get label() { return t().failing.byModelAndPart; } },
  { value: "cause", get label() { return t().failing.byCause; } },
];

/** Fewest cases to choose from. */
const LEAST = [1, 2, 3, 5, 10, 20];

function Day({ label, value, onDay }: { label: string; value: string; onDay: (day: string) => void }): JSX.Element {
  const id = useId();
  return <div class="field"><label for={id}>{label}</label><input class="entry" id={id} type="date" value={value} onChange={(event) => onDay(event.currentTarget.value)} /></div>;
}

const without = (names: Names, name: Name): Names => Object.fromEntries(Object.entries(names).filter(([each]) => each !== name)) as Names;

/** Another grouping has other rows; a name that is not counted by filters no more. */
function counted({ only }: FailingView, by: readonly Name[]): Partial<FailingView> {
  return { by, row: {}, only: Object.fromEntries(Object.entries(only).filter(([name]) => by.includes(name as Name))) as Names };
}

function Only({ name, view, known, trade, onView }: FilterProps & { name: Name }): JSX.Element {
  const chosen = view.only[name] ?? "";
  const values = [...new Set([...(known[name] ?? []), ...(chosen ? [chosen] : [])])].map((value) => ({ value, label: valueWords(trade, name, value) }));
  const choices = [{ value: "", label: t().failingFilter.all }, ...values.sort((a, b) => a.label.localeCompare(b.label))];
  return <Select label={t().failingFilter.names[name]} value={chosen} choices={choices} onPick={(value) => onView({ only: value ? { ...view.only, [name]: value } : without(view.only, name) })} />;
}

export function FailingFilter(props: FilterProps): JSX.Element {
  const { view, onView, onLink } = props;
  const flip = (name: string): void => {
    const by = NAMES.filter((each) => (each === name) !== view.by.includes(each));
    if (by.length > 0) onView(counted(view, by));
  };
  return (
    <>
      <PickOne label={t().failing.countedBy} shown={false} value={view.by.join(",")} choices={BY} onPick={(by) => onView(counted(view, by.split(",") as Name[]))} />
      <KeptFold id="filter" title={t().failingFilter.more}>
        <PickSome label={t().failing.countedBy} choices={NAMES.map((name) => ({ value: name, label: t().failingFilter.names[name] }))} values={view.by} onFlip={flip} />
        <div class="entry-row">
          <Day label={t().failingFilter.since} value={view.since} onDay={(since) => onView({ since })} />
          <Day label={t().failingFilter.until} value={view.until} onDay={(until) => onView({ until })} />
          <Select label={t().failingFilter.least} value={String(view.least)} choices={[...new Set([...LEAST, view.least])].map((each) => ({ value: String(each), label: String(each) }))} onPick={(least) => onView({ least: Number(least) })} />
        </div>
        <div class="entry-row">{view.by.map((name) => <Only key={name} name={name} {...props} />)}</div>
        <Button onTap={() => onView({ ...USUAL, open: view.open, orders: view.orders })}>{t().failingFilter.clear}</Button>
      </KeptFold>
      <Button kind="quiet" onTap={onLink}>{t().failingFilter.copyAddress}</Button>
    </>
  );
}
