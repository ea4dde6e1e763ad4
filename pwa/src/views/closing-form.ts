/** What is filled in on the closing screen, and the body it makes. */
import { numberTyped } from "../model/typed-number";
import type { CloseBody, Correction, Labour, ReadingBody, UnresolvedReason } from "../wire";

/** Stands for a cause that no list names. */
export const SOMETHING_ELSE = "something else";

export interface ClosingForm {
  cause: string;
  own: string;
  ownSystem: string;
  unresolved: UnresolvedReason | null;
  done: string;
  doneTouched: boolean;
  action: string;
  component: string | null;
  confirmedBy: string;
  after: readonly ReadingBody[];
  verification: string;
  diagnosis: string;
  repair: string;
  notBilled: string;
  other: string;
  note: string;
}

export const EMPTY_FORM: ClosingForm = {
  cause: "", own: "", ownSystem: "", unresolved: null, done: "", doneTouched: false, action: "", component: null, confirmedBy: "",
  after: [], verification: "", diagnosis: "", repair: "", notBilled: "", other: "", note: "",
};

/** The form filled from what the job itself proposes. */
export function proposed(body: CloseBody): ClosingForm {
  const correction = typeof body.correction === "object" ? body.correction : null;
  const done = typeof body.correction === "string" ? body.correction : (correction?.text ?? "");
  return { ...EMPTY_FORM, cause: body.cause ?? "", done, action: correction?.action ?? "", component: correction?.component ?? null, confirmedBy: body.confirmed_by ?? "" };
}

export const isReady = (form: ClosingForm): boolean =>
  form.unresolved !== null || (form.cause !== "" && form.cause !== SOMETHING_ELSE) || (form.cause === SOMETHING_ELSE && form.own.trim() !== "");

function labourOf(form: ClosingForm): Partial<Labour> {
  const [diagnosis, repair, notBilled] = [form.diagnosis, form.repair, form.notBilled].map((typed) => numberTyped(typed));
  return {
    ...(typeof diagnosis === "number" && { diagnosis_min: diagnosis }),
    ...(typeof repair === "number" && { repair_min: repair }),
    ...(typeof notBilled === "number" && { not_billed_min: notBilled }),
  };
}

function causeOf(form: ClosingForm): Pick<CloseBody, "cause" | "own_cause"> {
  if (form.cause !== SOMETHING_ELSE) return { cause: form.cause };
  return { own_cause: { title: form.own.trim(), ...(form.ownSystem && { system: form.ownSystem }) } };
}

function correctionOf(form: ClosingForm): Correction {
  return { action: form.action, component: form.cause === SOMETHING_ELSE ? null : form.component, text: form.done.trim() };
}

/** The closing as it travels; what was left empty stays out and is worked out by the service. */
export function closingBody(form: ClosingForm): CloseBody {
  const note = form.note.trim() ? { note: form.note.trim() } : {};
  const labour = labourOf(form);
  const shared = { ...note, ...(Object.keys(labour).length > 0 && { labour }) };
  if (form.unresolved) return { unresolved: form.unresolved, ...shared };
  const other = numberTyped(form.other);
  return {
    ...causeOf(form),
    ...((form.done.trim() || form.component) && { correction: correctionOf(form) }),
    ...(form.confirmedBy && { confirmed_by: form.confirmedBy }),
    ...(form.after.length > 0 && { readings: form.after }),
    ...(form.verification.trim() && { verification: form.verification.trim() }),
    ...(other !== null && { other_cost: other }),
    ...shared,
  };
}
