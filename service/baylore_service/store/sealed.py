"""Whether what goes to a database and comes back can be read on its way."""

from __future__ import annotations

from ipaddress import ip_address

from sqlalchemy import make_url

# With these libpq never asks for TLS, or goes on without.
_OPEN = {"disable", "allow", "prefer"}


def open_hosts(url: str) -> tuple[str, ...]:
    """The hosts an address reaches over a net without asking for TLS; none for a file or a socket."""
    address = make_url(url)
    given = {name: value if isinstance(value, str) else value[-1] for name, value in address.query.items()}
    if address.get_backend_name() == "sqlite" or given.get("sslmode", "prefer") not in _OPEN:
        return ()
    hosts = given.get("host", address.host or "").split(",")
    return tuple(host for host in hosts if not _stays_here(host))


def _stays_here(host: str) -> bool:
    """Whether what goes to this host never leaves the machine."""
    if host in ("", "localhost") or host.startswith("/"):
        return True
    try:
        return ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False
