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
import { Waiting, troubleAt, type Loaded, type Trouble } from "./trouble";
import { dayAndTime, sentence } from "./words";

export interface MembersProps {
  me: { member: Member; shop: Shop };
  members: Loaded<readonly Member[]>;
  invite: { member: string; enrolment: Enrolment } | null;
  memberTrouble: Trouble | null;
  onInvite: (member: string) => void;
  onAddMember: (member: { name: string; role: Role; skill: number }) => void;
  onAmendMember: (id: string, change: Partial<Pick<Member, "role" | "skill" | "active" | "rights">>) => void;
  onCopy: (link: string) => void;
  onReload: () => void;
}

const SKILLS = [
  { value: "1", label: "1 any hand" },
  { value: "2", label: "2 technician" },
  { value: "3", label: "3 diagnostic" },
  { value: "4", label: "4 certified" },
];
const ROLES = [
  { value: "technician", label: "Technician" },
  { value: "manager", label: "Manager" },
];

/** The service's own drawing, shown as a picture: nothing in it can run. */
function qrAddress(svg: string): string {
  return svg.trim() === "" ? "" : URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
}

function Invite({ enrolment, name, onCopy }: { enrolment: Enrolment; name: string; onCopy: (link: string) => void }): JSX.Element {
  const [address] = useState(() => qrAddress(enrolment.qr));
  return (
    <div class="stack">
      <p class="strong">Let {name}'s phone read this. It works once, until {dayAndTime(enrolment.expires)}.</p>
      {address && <div class="qr"><img src={address} alt={`Square code with the sign-in link for ${name}`} /></div>}
      <p class="note-text">{enrolment.link}</p>
      <Button onTap={() => onCopy(enrolment.link)}>Copy the link</Button>
    </div>
  );
}

function MemberSlip({ member, props }: { member: Member; props: MembersProps }): JSX.Element {
  const { invite, onInvite, onAmendMember, onCopy, me } = props;
  const own = me.member.id === member.id;
  const rights = [...new Set([...me.shop.rights.map((each) => each.right), ...member.rights])];
  return (
    <div class="slip">
      <p class="slip-title">{member.name}{own && " (you)"}</p>
      <p>{sentence(member.role)}, skill {member.skill}{!member.active && ", left"}</p>
      {member.rights.length > 0 && <p>Holds: {member.rights.join(", ")}</p>}
      {member.active && <Button onTap={() => onInvite(member.id)}>Sign-in link for a phone</Button>}
      {invite?.member === member.id && <Invite key={invite.enrolment.code} enrolment={invite.enrolment} name={member.name} onCopy={onCopy} />}
      <Fold title="Change">
        <PickOne label="Skill" value={String(member.skill)} choices={SKILLS} onPick={(skill) => onAmendMember(member.id, { skill: Number(skill) })} />
        {rights.length > 0 && <PickSome label="Holds" values={member.rights} choices={rights.map((each) => ({ value: each, label: each }))} onFlip={(right) => onAmendMember(member.id, { rights: toggled(member.rights, right) })} />}
        {!own && <PickOne label="Role" value={member.role} choices={ROLES} onPick={(role) => onAmendMember(member.id, { role: role === "manager" ? "manager" : "technician" })} />}
        {!own && member.active && <AskTwice question={`${member.name} left? The cases stay.`} sure="Has left" onTap={() => onAmendMember(member.id, { active: false })}>Has left the shop</AskTwice>}
        {!own && !member.active && <Button onTap={() => onAmendMember(member.id, { active: true })}>Is back</Button>}
      </Fold>
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
    <Fold title="Add somebody">
      <TextField label="First name or nickname" value={name} caps="words" maxLength={60} onText={setName} problem={troubleAt(memberTrouble, "name")} />
      <PickOne label="Skill" value={skill} choices={SKILLS} onPick={setSkill} />
      <PickOne label="Role" value={role} choices={ROLES} onPick={setRole} />
      <Button kind="main" disabled={name.trim() === ""} onTap={add}>Add</Button>
    </Fold>
  );
}

export function Members(props: MembersProps): JSX.Element {
  const { members, onReload } = props;
  return (
    <Bin title="People" count={members.value?.length}>
      <Waiting of={members} words="Looking up people" onRetry={onReload} />
      {members.value?.map((member) => <MemberSlip key={member.id} member={member} props={props} />)}
      {members.value && <AddMember {...props} />}
    </Bin>
  );
}
