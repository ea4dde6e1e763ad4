"""Wrong sign-in codes and tokens: after too many in a minute, from one address or with one code, wait.

They are counted in the store, so that all processes count together. A right code or token is never held up:
both are too long to be guessed, and whoever sends wrong ones from a shop's own address must not be able to
keep that shop's phones out.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from ipaddress import IPv6Address, ip_address, ip_network
from math import ceil

from baylore_service.errors import TooManyTries
from baylore_service.store import tries
from baylore_service.store.work import Store

SPAN = timedelta(minutes=1)
# Who has a net has all of its addresses.
NET6 = 64


@dataclass(frozen=True, slots=True)
class Tried:
    """A wrong secret of a kind (`code`, `token`), from an address."""

    kind: str
    address: str
    secret: str

    def counts_against(self) -> tuple[str, str]:
        """What it counts against: its address and itself."""
        itself = sha256(f"tried {self.kind} {self.secret}".encode()).hexdigest()[:32]
        return f"{self.kind} from {place(self.address)}"[:64], f"{self.kind} {itself}"


def place(address: str) -> str:
    """The address, of IPv6 its net; what is no address stays."""
    try:
        found = ip_address(address)
    except ValueError:
        return address[:40]
    if isinstance(found, IPv6Address) and found.ipv4_mapped:
        return str(found.ipv4_mapped)
    return str(ip_network(f"{found}/{NET6}", strict=False)) if found.version == 6 else str(found)


class Tries:
    """Counts wrong ones of the last minute in the store."""

    def __init__(self, store: Store, most: int) -> None:
        self._store, self._most = store, most

    def wrong(self, tried: Tried, now: datetime) -> None:
        """Note a wrong one. Raises TooManyTries, noting nothing, where there were too many before it."""
        with self._store.read() as work:
            for key in tried.counts_against():
                # What lies ahead was noted before the clock was set back; waiting for it could take days.
                count, first = tries.between(work, key, after=now - SPAN, until=now)
                if count >= self._most and first is not None:
                    raise TooManyTries(max(1, ceil((first + SPAN - now).total_seconds())), what=tried.kind)
        with self._store.write() as work:
            tries.forget(work, before=now - SPAN)
            for key in tried.counts_against():
                tries.note(work, key, at=now)
