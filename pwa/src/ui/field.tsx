/** Labelled entries; a problem stands at its field, with what to do about it. */
import type { ComponentChildren, JSX } from "preact";
import { useId } from "preact/hooks";

interface Frame {
  label: string;
  hint?: string;
  problem?: string;
}

interface EntryProps extends Frame {
  value: string;
  onText: (text: string) => void;
  placeholder?: string;
  mode?: "text" | "numeric" | "decimal" | "search";
  caps?: "none" | "characters" | "words" | "sentences";
  maxLength?: number;
  list?: readonly string[];
}

function Around({ label, hint, problem, id, children }: Frame & { id: string; children: ComponentChildren }): JSX.Element {
  return (
    <div class={problem ? "field wrong" : "field"}>
      <label for={id}>
        {label}
        {hint && <span class="hint"> {hint}</span>}
      </label>
      {children}
      {problem && <p class="problem" id={`${id}-problem`} role="alert">{problem}</p>}
    </div>
  );
}

export function TextField(props: EntryProps): JSX.Element {
  const id = useId();
  const { value, onText, placeholder, mode = "text", caps = "sentences", maxLength = 200, list, problem } = props;
  return (
    <Around {...props} id={id}>
      <input
        class="entry" id={id} type={mode === "search" ? "search" : "text"} inputMode={mode} value={value} placeholder={placeholder}
        autoCapitalize={caps} autoComplete="off" maxLength={maxLength} list={list && `${id}-list`}
        aria-invalid={problem ? true : undefined} aria-describedby={problem ? `${id}-problem` : undefined}
        onInput={(event) => onText(event.currentTarget.value)}
      />
      {list && <datalist id={`${id}-list`}>{list.map((each) => <option key={each} value={each} />)}</datalist>}
    </Around>
  );
}

export type AreaProps = EntryProps & { rows?: number };

export function TextArea(props: AreaProps): JSX.Element {
  const id = useId();
  const { value, onText, placeholder, maxLength = 4000, rows = 3, problem } = props;
  return (
    <Around {...props} id={id}>
      <textarea
        class="entry" id={id} rows={rows} value={value} placeholder={placeholder} maxLength={maxLength}
        aria-invalid={problem ? true : undefined} aria-describedby={problem ? `${id}-problem` : undefined}
        onInput={(event) => onText(event.currentTarget.value)}
      />
    </Around>
  );
}

export interface Choice {
  value: string;
  label: string;
}

export function Select(props: Frame & { value: string; choices: readonly Choice[]; onPick: (value: string) => void }): JSX.Element {
  const id = useId();
  return (
    <Around {...props} id={id}>
      <select class="entry" id={id} value={props.value} onChange={(event) => props.onPick(event.currentTarget.value)} aria-invalid={props.problem ? true : undefined}>
        {props.choices.map((each) => <option key={each.value} value={each.value}>{each.label}</option>)}
      </select>
    </Around>
  );
}

export function Switch({ label, on, onFlip, children }: { label: string; on: boolean; onFlip: (on: boolean) => void; children: ComponentChildren }): JSX.Element {
  return (
    <button type="button" role="switch" class="switch" aria-checked={on} aria-label={label} onClick={() => onFlip(!on)}>
      {children}
    </button>
  );
}
