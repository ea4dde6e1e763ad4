"""Who may do what."""

from __future__ import annotations

from baylore_service.errors import WrongRole
from baylore_service.store.records import Actor


def only_managers(actor: Actor, act: str) -> None:
    """Raises WrongRole unless the actor is a manager; `act` says what was wanted."""
    if actor.member.role != "manager":
        raise WrongRole(
            f"only a manager may {act}; {actor.member.name} is a {actor.member.role}",
            remedy="ask a manager of the shop to do it or to change your role",
        )
