"""Who asks: the bearer token read once per request, and guards by role."""

from __future__ import annotations

from asyncio import Semaphore
from contextlib import nullcontext
from functools import cache
from ipaddress import IPv4Network, IPv6Network, ip_address, ip_network
from typing import Any

from litestar import Request
from litestar.concurrency import sync_to_thread
from litestar.connection import ASGIConnection
from litestar.datastructures import State
from litestar.di import NamedDependency
from litestar.handlers import BaseRouteHandler
from litestar.middleware import AbstractAuthenticationMiddleware, AuthenticationResult
from litestar.params import SkipValidation

from baylore_service.desk import feed, members
from baylore_service.desk.house import House
from baylore_service.desk.reasoning import Handouts
from baylore_service.errors import BadValue, NotSignedIn, WrongRole
from baylore_service.settings import Settings
from baylore_service.store.records import Actor
from baylore_service.wire.read import Reader
from baylore_service.wire.trade_lists import TradeLists

Connection = ASGIConnection[Any, Any, Any, State]
Asking = NamedDependency[SkipValidation[Actor]]
TheHouse = NamedDependency[SkipValidation[House]]
TheLists = NamedDependency[SkipValidation[TradeLists]]
TheHandouts = NamedDependency[SkipValidation[Handouts]]
TheReader = NamedDependency[SkipValidation[Reader]]
SEAT = "baylore_seat"
MAX_TOKEN = 512
# So many questions at a time are signed in; the rest of a burst waits asleep, not before short answers.
THROUGH_THE_DOOR = 2
# A device that names the revision of its last answer is never answered from an older store.
SEEN = "Baylore-Seen"
MAX_DIGITS = 16


def token_of(header: str | None) -> str:
    """The token of an Authorization header. Raises NotSignedIn without one."""
    scheme, _, token = (header or "").partition(" ")
    token = token.strip()
    if scheme.lower() != "bearer" or not 0 < len(token) <= MAX_TOKEN:
        raise NotSignedIn(
            "the request carries no device token",
            remedy="sign this device in by a link of a manager, and send Authorization: Bearer <token>",
        )
    return token


def seen_by(header: str | None) -> int:
    """The number of the last change a device says it has seen, 0 where it says nothing. Raises BadValue."""
    if header is None:
        return 0
    if header.isascii() and header.isdecimal() and len(header) <= MAX_DIGITS:
        return int(header)
    raise BadValue(
        f"{SEEN} is {header[:40]!r}", field=SEEN, remedy="send the last revision you were answered"
    )


def address_of(connection: Connection, settings: Settings) -> str:
    """The address a request came from: behind trusted proxies the last one they name that is none of them.

    What anybody else writes into X-Forwarded-For is not believed.
    """
    address = connection.client.host if connection.client else ""
    nets = trusted_nets(settings.trusted_proxies)
    named = ",".join(connection.headers.getall("x-forwarded-for", [])).split(",")
    while named and named[-1].strip() and _within(address, nets):
        address = named.pop().strip()
    return address


@cache
def trusted_nets(text: str) -> tuple[IPv4Network | IPv6Network, ...]:
    """The nets of the setting."""
    return tuple(ip_network(each.strip(), strict=False) for each in text.split(",") if each.strip())


def _within(address: str, nets: tuple[IPv4Network | IPv6Network, ...]) -> bool:
    try:
        found = ip_address(address)
    except ValueError:
        return False
    return any(found in net for net in nets)


class SignIn(AbstractAuthenticationMiddleware):
    """Finds the actor of a request before any handler; routes marked `open` need none."""

    async def authenticate_request(self, connection: Connection) -> AuthenticationResult:
        """The actor of the token.

        Raises NotSignedIn, TooManyCalls, Behind for a device that has seen more, and Overloaded for one
        question too many.
        """
        token = token_of(connection.headers.get("authorization"))
        house: House = connection.app.state.house
        door: Semaphore | nullcontext[None] = nullcontext()
        if connection.route_handler.opt.get("thinks"):
            house.thinkers.take_seat()
            connection.scope[SEAT] = house.thinkers  # type: ignore[literal-required]
            door = connection.app.state.door
        address, seen = address_of(connection, house.settings), seen_by(connection.headers.get(SEEN))
        async with door:
            actor = await sync_to_thread(members.who, house, token, address=address)
        house.pace.call(actor.device.id)
        if seen:
            await sync_to_thread(feed.must_have, house, actor, seen)
        return AuthenticationResult(user=actor, auth=None)


def manager_only(connection: Connection, handler: BaseRouteHandler) -> None:
    """Lets only managers pass; what methods there are, anyone may ask."""
    if connection.scope.get("method") == "OPTIONS":
        return
    if connection.user.member.role != "manager":
        raise WrongRole(
            "this is for managers", remedy="ask a manager of the shop to do it or to change your role"
        )


def provide_actor(request: Request[Any, Any, Any]) -> Actor:
    """The actor the token belongs to."""
    actor: Actor = request.user
    return actor


def provide_house(request: Request[Any, Any, Any]) -> House:
    """The wired house of this process."""
    house: House = request.app.state.house
    return house


def provide_reader(request: Request[Any, Any, Any]) -> Reader:
    """Reads what was sent against the lists of the actor's shop, as of now."""
    house: House = request.app.state.house
    return Reader(house.trade_of(request.user), house.now())


def provide_lists(request: Request[Any, Any, Any]) -> TradeLists:
    """The trade lists as they are answered."""
    lists: TradeLists = request.app.state.lists
    return lists


def provide_handouts(request: Request[Any, Any, Any]) -> Handouts:
    """What phones reckon with, as it was handed out last."""
    handouts: Handouts = request.app.state.handouts
    return handouts
