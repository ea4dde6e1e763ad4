/** The people of the shop and a sign-in link for each; for the manager. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { AskTwice, Button } from "../ui/button";
import { toggled } from "../model/draft";
import { PickOne, PickSome } from "../ui/chips";
import { TextField } from "../ui/field";
import { Fold } from "../ui/fold";
import type { Enrolment, Member, Role, Shop } from "../wire";
import { Leaving, type LeavingProps } from "./shop-leaving";
import { Waiting, troubleAt, type Loaded, type Trouble } from "./trouble";
import { dayAndTime, named } from "./words";
import { t } from "../texts";

export interface MembersProps {
  me: { member: Member; shop: Shop };
  members: Loaded<readonly Member[]>;
  invite: { member: string; enrolment: Enrolment } | null;
  memberTrouble: Trouble | null;
  onInvite: (member: string) => void;
  onAddMember: (member: { name: string; role: Role; skill: number }) => void;
  onAmendMember: (id: string, change: Partial<Pick<Member, "role" | "skill" | "active" | "rights">>) => void;
  onLeave: LeavingProps["onLeave"];
  onCopy: (link: string) => void;
  onReload: () => void;
}

const SKILLS = [
  { value: "1", get label() { return t().shopMembers.n1AnyHand; } },
  { value: "2", get label() { return t().shopMembers.n2Technician; } },
  { value: "3", get label() { return t().shopMembers.n3Diagnostic; } },
  { value: "4", get label() { return t().shopMembers.n4Certified; } },
];
const ROLES = [
  { value: "technician", get label() { return t().shopMembers.technician; } },
  { value: "manager", get label() { return t().shopMembers.manager; } },
];

/** The service's own drawing, shown as a picture: nothing in it can run. */
function qrAddress(svg: string): string {
  return svg.trim() === "" ? "" : URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
}

function Invite({ enrolment, name, onCopy }: { enrolment: Enrolment; name: string; onCopy: (link: string) => void }): JSX.Element {
  const [address] = useState(() => qrAddress(enrolment.qr));
  return (
    <div class="stack">
      <p class="strong">{t().shopMembers.letSPhoneReadThis(name, dayAndTime(enrolment.expires))}</p>
      {address && <div class="qr"><img src={address} alt={t().shopMembers.squareCodeWithTheSign(name)} /></div>}
      <p class="note-text">{enrolment.link}</p>
      <Button onTap={() => onCopy(enrolment.link)}>{t().shopMembers.copyTheLink}</Button>
    </div>
  );
}

function MemberSlip({ member, props }: { member: Member; props: MembersProps }): JSX.Element {
  const { invite, onInvite, onAmendMember, onCopy, me } = props;
  const own = me.member.id === member.id;
  const rights = [...new Set([...me.shop.rights.map((each) => each.right), ...member.rights])];
  return (
    <div class="slip">
      <p class="slip-title">{member.name}{own && t().shopMembers.you}</p>
      <p>{t().shopMembers.skill(named(member.role), member.skill)}{!member.active && t().shopMembers.left}</p>
      {member.rights.length > 0 && <p>{t().shopMembers.holds(member.rights.join(", "))}</p>}
      {member.active && <Button onTap={() => onInvite(member.id)}>{t().shopMembers.signInLinkForA}</Button>}
      {invite?.member === member.id && <Invite key={invite.enrolment.code} enrolment={invite.enrolment} name={member.name} onCopy={onCopy} />}
      <Fold title={t().shopMembers.change}>
        <PickOne label={t().shopMembers.skill2} value={String(member.skill)} choices={SKILLS} onPick={(skill) => onAmendMember(member.id, { skill: Number(skill) })} />
        {rights.length > 0 && <PickSome label={t().shopMembers.holds2} values={member.rights} choices={rights.map((each) => ({ value: each, label: each }))} onFlip={(right) => onAmendMember(member.id, { rights: toggled(member.rights, right) })} />}
        {!own && <PickOne label={t().shopMembers.role} value={member.role} choices={ROLES} onPick={(role) => onAmendMember(member.id, { role: role === "manager" ? "manager" : "technician" })} />}
        {!own && member.active && <AskTwice question={t().shopMembers.leftTheCasesStay(member.name)} sure={t().shopMembers.hasLeft} onTap={() => onAmendMember(member.id, { active: false })}>{t().shopMembers.hasLeftTheShop}</AskTwice>}
        {!own && !member.active && <Button onTap={() => onAmendMember(member.id, { active: true })}>{t().shopMembers.isBack}</Button>}
      </Fold>
      {!own && <Leaving member={member} onLeave={props.onLeave} />}
    </div>
  );
}

function AddMember({ memberTrouble, onAddMember }: MembersProps): JSX.Element {
  const [name, setName] = useState("");
  const [skill, setSkill] = useState("3");
  const [role, setRole] = useState("technician");
  const add = (): void => {
    onAddMember({ name: name.trim(), role: role === "manager" ? "manager" : "technician", skill: Number(skill) });
    setName("");
  };
  return (
    <Fold title={t().shopMembers.addSomebody}>
      <TextField label={t().shopMembers.firstNameOrNickname} value={name} caps="words" maxLength={60} onText={setName} problem={troubleAt(memberTrouble, "name")} />
      <PickOne label={t().shopMembers.skill2} value={skill} choices={SKILLS} onPick={setSkill} />
      <PickOne label={t().shopMembers.role} value={role} choices={ROLES} onPick={setRole} />
      <Button kind="main" disabled={name.trim() === ""} onTap={add}>{t().shopMembers.add}</Button>
    </Fold>
  );
}

export function Members(props: MembersProps): JSX.Element {
  const { members, onReload } = props;
  return (
    <Bin title={t().shopMembers.people} count={members.value?.length}>
      <Waiting of={members} words={t().shopMembers.lookingUpPeople} onRetry={onReload} />
      {members.value?.map((member) => <MemberSlip key={member.id} member={member} props={props} />)}
      {members.value && <AddMember {...props} />}
    </Bin>
  );
}
