/** What is only known at the service: people and phones. */
import { signal } from "@preact/signals";

import { saveFile } from "./ui/save-file";
import { isManager } from "./app-parts";
import { load, nothingYet, phone, say, troubleOf } from "./app-state";
import type { Loaded, Trouble } from "./views/trouble";
import type { Device, Enrolment, Member, Role, Shop, Tuning } from "./wire";
import { t } from "./texts";

export const members = signal<Loaded<readonly Member[]>>(nothingYet);
export const tuning = signal<Loaded<Tuning>>(nothingYet);
export const devices = signal<Loaded<readonly Device[]>>(nothingYet);
export const invite = signal<{ member: string; enrolment: Enrolment } | null>(null);
export const memberTrouble = signal<Trouble | null>(null);
export const wordTrouble = signal<Trouble | null>(null);
export const shopSaid = signal("");

export async function loadShop(): Promise<void> {
  const people = isManager() ? [load(members, () => phone.members()), load(tuning, () => phone.tuning())] : [];
  await Promise.all([...people, load(devices, () => phone.devices())]);
}

export async function inviteMember(member: string): Promise<void> {
  const answer = await phone.enrol(member);
  shopSaid.value = troubleOf(answer)?.title ?? "";
  if (answer.kind === "ok") invite.value = { member, enrolment: answer.value };
}

export async function addMember(member: { name: string; role: Role; skill: number }): Promise<void> {
  const answer = await phone.addMember(member);
  memberTrouble.value = troubleOf(answer);
  if (answer.kind === "ok") await loadShop();
}

export async function amendMember(id: string, change: Partial<Pick<Member, "role" | "skill" | "active" | "rights">>): Promise<void> {
  const answer = await phone.amendMember(id, change);
  shopSaid.value = troubleOf(answer)?.title ?? "";
  await loadShop();
}

export async function revoke(device: string): Promise<void> {
  const answer = await phone.revokeDevice(device);
  shopSaid.value = troubleOf(answer)?.title ?? "";
  await loadShop();
}

export async function changeShop(change: Partial<Omit<Shop, "id">>): Promise<void> {
  const answer = await phone.amendShop(change);
  shopSaid.value = troubleOf(answer)?.title ?? "";
  if (answer.kind === "ok") say({ text: t().app.saved });
}

export async function addWord(word: string, means: string): Promise<boolean> {
  const answer = await phone.keepWord(word, means);
  wordTrouble.value = troubleOf(answer);
  if (answer.kind === "ok") say({ text: t().app.isAWordOfOurs2(answer.value.id) });
  return answer.kind === "ok";
}

export async function dropWord(word: string): Promise<void> {
  const answer = await phone.dropWord(word);
  wordTrouble.value = troubleOf(answer);
  if (answer.kind === "ok") say({ text: t().app.isTakenOut(word) });
}

/** All data as one file into the phone's downloads. */
export async function takeOut(): Promise<void> {
  const answer = await phone.exportLines();
  shopSaid.value = troubleOf(answer)?.title ?? "";
  if (answer.kind !== "ok") return;
  saveFile("baylore-export.jsonl", answer.value);
}
