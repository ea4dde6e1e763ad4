"""What goes out of the service: signed messages, and mail through the shop's own server."""

from __future__ import annotations

import hashlib
import hmac
import http.client
import ipaddress
import smtplib
import socket
import ssl
import threading
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from email.message import EmailMessage
from urllib.parse import SplitResult, urlsplit

from baylore_service.errors import BadValue, DeliveryFailed
from baylore_service.settings import Settings
from baylore_service.store.records.office import Delivery, Hook

# For each wait, and for a message as a whole: who answers a byte now and then must not hold up the others.
TIMEOUT_S, WHOLE_S = 10.0, 30.0
# Kept for protocols; of older lists only some of it is.
PROTOCOLS = ipaddress.IPv4Network("192.0.0.0/24")
# Nets whose addresses end in one of the old net: compatible ones, and those of translators.
TRANSLATED = tuple(map(ipaddress.IPv6Network, ("::/96", "64:ff9b::/96", "64:ff9b:1::/48")))
SIGNATURE, STAMP = "X-Baylore-Signature", "X-Baylore-Timestamp"


@dataclass(frozen=True, slots=True)
class Reach:
    """Where messages may go: to private addresses too, and to these hosts only (none named: to any)."""

    private: bool = False
    only: frozenset[str] = frozenset()

    @classmethod
    def of(cls, settings: Settings) -> Reach:
        """As far as the settings let them."""
        named = (host.strip().lower() for host in settings.hooks_to.split(","))
        return cls(bool(settings.hooks_private), frozenset(filter(None, named)))


def web_address(url: str, reach: Reach) -> SplitResult:
    """The parts of a web address. Raises BadValue unless it is https, or http where private ones may be.

    A host given as a number is refused here when it is private; names are looked at when sent to.
    """
    try:
        parts = urlsplit(url)
        port = parts.port
    except ValueError as error:
        raise _bad(url, "write it as https://host/path") from error
    if (
        parts.scheme not in (("https", "http") if reach.private else ("https",))
        or not parts.hostname
        or port == 0
    ):
        raise _bad(url, "write it as https://host/path")
    if parts.username or parts.password:
        raise _bad(url, "leave name and password out; messages are signed")
    if reach.only and parts.hostname not in reach.only:
        raise _bad(url, f"send to one of BAYLORE_HOOKS_TO: {', '.join(sorted(reach.only))}")
    if not reach.private and _is_private_number(parts.hostname):
        raise _bad(url, "use a public address, or set BAYLORE_HOOKS_PRIVATE=1 for one of the shop's own net")
    return parts


def _bad(url: str, remedy: str) -> BadValue:
    return BadValue(f"url: {url[:200]!r} cannot be sent to", field="url", remedy=remedy)


def _is_private_number(host: str) -> bool:
    try:
        return not is_public(host)
    except ValueError:
        return False


def is_public(address: str) -> bool:
    """Whether a numeric address is one of the open net. Raises ValueError for a name."""
    found = ipaddress.ip_address(address)
    return all(map(_is_open, (found, *_inside(found))))


def _is_open(found: ipaddress.IPv4Address | ipaddress.IPv6Address) -> bool:
    return found.is_global and not found.is_multicast and found not in PROTOCOLS


def _inside(found: ipaddress.IPv4Address | ipaddress.IPv6Address) -> list[ipaddress.IPv4Address]:
    """The addresses of the old net that an address may lead to: mapped, tunnelled or translated."""
    if isinstance(found, ipaddress.IPv4Address):
        return []
    inner = [found.ipv4_mapped, found.sixtofour, *(found.teredo or ())]
    if any(found in net for net in TRANSLATED):
        inner.append(ipaddress.IPv4Address(int(found) & 0xFFFFFFFF))
    return [each for each in inner if each is not None]


def sign(secret: str, stamp: str, body: bytes) -> str:
    """The signature of a message: HMAC-SHA256, in hex, of its time, a point and its body."""
    return hmac.new(secret.encode(), stamp.encode() + b"." + body, hashlib.sha256).hexdigest()


def post_signed(hook: Hook, message: Delivery, reach: Reach, *, at: datetime) -> None:
    """Send a message once. Raises DeliveryFailed unless the answer is 2xx; redirects are not followed."""
    parts = web_address(hook.url, reach)
    body, stamp = message.body.encode(), str(int(at.timestamp()))
    headers = {
        "Content-Type": "application/json",
        "Idempotency-Key": message.id,
        STAMP: stamp,
        SIGNATURE: f"sha256={sign(hook.secret, stamp, body)}",
        "User-Agent": "baylore",
    }
    target = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
    try:
        connection = _connection(parts, private=reach.private)
        end = threading.Timer(WHOLE_S, connection.give_up)
        end.daemon = True
        end.start()
        try:
            connection.request("POST", target, body, headers)
            status = connection.getresponse().status
        finally:
            end.cancel()
            connection.close()
    except (OSError, http.client.HTTPException) as error:
        detail = f"{parts.hostname} cannot be reached: {error}"
        raise DeliveryFailed(detail, remedy="it is tried again") from error
    if not 200 <= status < 300:
        raise DeliveryFailed(f"{parts.hostname} answered {status}", remedy="it is tried again")


class _Pinned(http.client.HTTPConnection):
    """A connection to an address that was looked at, so that a second look-up cannot lead elsewhere."""

    def __init__(self, parts: SplitResult, address: str, *, tls: bool) -> None:
        super().__init__(parts.hostname or "", parts.port or (443 if tls else 80), timeout=TIMEOUT_S)
        self._address, self._tls = address, tls

    def connect(self) -> None:
        """Connect to the address, under the host's name."""
        plain = socket.create_connection((self._address, self.port), timeout=TIMEOUT_S)
        secure = ssl.create_default_context().wrap_socket
        self.sock = secure(plain, server_hostname=self.host) if self._tls else plain

    def give_up(self) -> None:
        """End whatever is waited for, from another thread."""
        with suppress(OSError):
            if self.sock is not None:
                self.sock.shutdown(socket.SHUT_RDWR)


def _connection(parts: SplitResult, *, private: bool) -> _Pinned:
    tls = parts.scheme == "https"
    port = parts.port or (443 if tls else 80)
    found = socket.getaddrinfo(parts.hostname, port, type=socket.SOCK_STREAM)
    addresses = [str(each[4][0]) for each in found]
    if not private and not all(map(is_public, addresses)):
        raise DeliveryFailed(
            f"{parts.hostname} is a private address",
            remedy="use a public one, or set BAYLORE_HOOKS_PRIVATE=1",
        )
    return _Pinned(parts, addresses[0], tls=tls)


def mail(settings: Settings, *, subject: str, text: str, id: str) -> None:
    """Send a mail through the shop's server. Raises DeliveryFailed."""
    message = EmailMessage()
    message["Subject"] = " ".join(subject.split())[:200]
    message["From"] = settings.smtp_from or settings.smtp_to.split(",")[0].strip()
    message["To"] = settings.smtp_to
    message["Message-ID"] = f"<{id}@baylore>"
    message.set_content(text)
    try:
        with smtplib.SMTP(settings.smtp_host, settings.smtp_port, timeout=TIMEOUT_S) as server:
            if server.has_extn("starttls") or settings.smtp_user:
                server.starttls(context=ssl.create_default_context())
            if settings.smtp_user:
                server.login(settings.smtp_user, settings.smtp_password)
            server.send_message(message)
    except (OSError, smtplib.SMTPException) as error:
        raise DeliveryFailed(
            f"the mail was not taken: {error}", remedy="look at the BAYLORE_SMTP_ settings"
        ) from error
