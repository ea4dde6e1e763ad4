"""The settings of the service, read from the environment once and passed by hand."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from ipaddress import ip_network
from pathlib import Path
from typing import Any

from baylore_service.errors import SettingRefused

LOG_LEVELS = ("debug", "info", "warning", "error")
CHOICES = {"BAYLORE_LOG_LEVEL": LOG_LEVELS, "BAYLORE_CANDIDATES": ("memory", "database")}


def setting(default: Any, names: str, meaning: str, **limits: float) -> Any:
    """A field with the variables it is read from (the first that is set wins) and its meaning."""
    return field(default=default, metadata={"names": tuple(names.split()), "meaning": meaning, **limits})


@dataclass(frozen=True, slots=True)
class Settings:
    """All settings; each field's metadata holds its variables and a one-line meaning."""

    data: Path = setting(
        Path("var/baylore"),
        "BAYLORE_DATA",
        "folder of the store; made when missing (relative: to where it starts)",
    )
    database_url: str = setting(
        "",
        "BAYLORE_DATABASE_URL",
        "sqlite:/// or postgresql:// address; empty: baylore.db in the data folder",
    )
    read_url: str = setting(
        "",
        "BAYLORE_READ_URL",
        "postgresql:// address of a replica that indexes are read and searched from; empty: none",
    )
    host: str = setting("127.0.0.1", "BAYLORE_HOST HOST", "address to listen on")
    port: int = setting(8000, "BAYLORE_PORT PORT", "port to listen on", least=1, most=65535)
    address: str = setting(
        "", "BAYLORE_ADDRESS", "public address that sign-in links begin with; empty: http://host:port"
    )
    max_json_bytes: int = setting(
        1_000_000, "BAYLORE_MAX_JSON_BYTES", "largest JSON body taken", least=10_000, most=100_000_000
    )
    max_photo_bytes: int = setting(
        8_000_000, "BAYLORE_MAX_PHOTO_BYTES", "largest photo taken", least=10_000, most=100_000_000
    )
    max_photos: int = setting(
        100_000, "BAYLORE_MAX_PHOTOS", "photos a shop may keep in all", least=1, most=100_000_000
    )
    max_import_bytes: int = setting(
        64_000_000,
        "BAYLORE_MAX_IMPORT_BYTES",
        "largest import taken over the web",
        least=10_000,
        most=2_000_000_000,
    )
    max_advice: int = setting(
        50, "BAYLORE_MAX_ADVICE", "most past cases shown in one advice", least=1, most=200
    )
    log_level: str = setting("info", "BAYLORE_LOG_LEVEL", "debug, info, warning or error")
    trace_to: str = setting(
        "",
        "BAYLORE_TRACE_TO",
        "OTLP/HTTP address that spans are sent to, as http://127.0.0.1:4318/v1/traces; empty: none",
    )
    enrolment_hours: float = setting(
        24.0, "BAYLORE_ENROLMENT_HOURS", "hours a sign-in code can be used", least=0.1, most=720
    )
    idle_days: float = setting(
        180.0,
        "BAYLORE_IDLE_DAYS",
        "days without a call after which a device must be signed in anew",
        least=0.5,
        most=100_000,
    )
    max_wrong_codes: int = setting(
        10,
        "BAYLORE_MAX_WRONG_CODES",
        "wrong sign-in codes, and wrong tokens, taken from one address in a minute",
        least=1,
        most=100_000,
    )
    max_calls: int = setting(
        100_000,
        "BAYLORE_MAX_CALLS",
        "calls a device may make of one process in a minute",
        least=60,
        most=1_000_000,
    )
    trusted_proxies: str = setting(
        "",
        "BAYLORE_TRUSTED_PROXIES",
        "addresses or nets, by comma, of proxies whose X-Forwarded-For is believed; empty: none",
    )
    body_seconds: int = setting(
        120, "BAYLORE_BODY_SECONDS", "seconds a body may take to arrive", least=1, most=100_000
    )
    receipt_days: int = setting(
        90, "BAYLORE_RECEIPT_DAYS", "days an answer is kept for its idempotency key", least=1, most=3650
    )
    trail_days: int = setting(
        730, "BAYLORE_TRAIL_DAYS", "days it is kept who changed what", least=1, most=36_500
    )
    pool_size: int = setting(
        16,
        "BAYLORE_POOL_SIZE",
        "database connections kept open; at least the worker threads",
        least=1,
        most=200,
    )

    store_wait_ms: int = setting(
        5000,
        "BAYLORE_STORE_WAIT_MS",
        "milliseconds a write waits for its turn before it is asked to come again",
        least=1,
        most=600_000,
    )
    max_waiting: int = setting(
        200,
        "BAYLORE_MAX_WAITING",
        "questions that may wait for the one being answered; more are asked to come again",
        least=1,
        most=100_000,
    )
    max_wait_s: int = setting(
        10,
        "BAYLORE_MAX_WAIT_S",
        "seconds a question may wait for its turn; a phone answers by itself after ten",
        least=1,
        most=100_000,
    )

    workers: int = setting(
        1,
        "BAYLORE_WORKERS",
        "server processes; each holds the indexes and gives the same answers",
        least=1,
        most=10_000,
    )

    candidates: str = setting(
        "memory",
        "BAYLORE_CANDIDATES",
        "memory: every shop's cases are held and searched in memory; database: by PostgreSQL's own indexes",
    )
    trigrams: int = setting(
        0,
        "BAYLORE_TRIGRAMS",
        "1, with candidates from the database: words nothing like which is known are looked for by pg_trgm",
        least=0,
        most=1,
    )
    follow_every_s: int = setting(
        5,
        "BAYLORE_FOLLOW_EVERY_S",
        "seconds between two looks for what other processes wrote, beside being notified; 0: only when asked",
        least=0,
        most=86_400,
    )

    tune_every_s: int = setting(
        3600,
        "BAYLORE_TUNE_EVERY_S",
        "least seconds between two trials of a shop's own tuning; 0: only by `baylore tune`",
        least=0,
        most=10_000_000,
    )

    alerts_every_s: int = setting(
        3600,
        "BAYLORE_ALERTS_EVERY_S",
        "seconds between two looks for alerts; a closed case is looked at within a minute; 0: never",
        least=0,
        most=10_000_000,
    )
    verify_every_s: int = setting(
        86_400,
        "BAYLORE_VERIFY_EVERY_S",
        "seconds between two looks through the whole store, as by `baylore verify`; 0: never",
        least=0,
        most=10_000_000,
    )
    drain_s: int = setting(
        0,
        "BAYLORE_DRAIN_S",
        "seconds to answer on but be not ready before an end, for a proxy to notice",
        least=0,
        most=10_000,
    )
    hooks_private: int = setting(
        0,
        "BAYLORE_HOOKS_PRIVATE",
        "1: alerts may be sent to addresses of the shop's own net, and without TLS",
        least=0,
        most=1,
    )
    hooks_to: str = setting(
        "", "BAYLORE_HOOKS_TO", "hosts, by comma, that alerts may be sent to; empty: any of the open net"
    )
    smtp_host: str = setting("", "BAYLORE_SMTP_HOST", "mail server that sends alerts; empty: no mail")
    smtp_port: int = setting(587, "BAYLORE_SMTP_PORT", "port of the mail server", least=1, most=65535)
    smtp_user: str = setting("", "BAYLORE_SMTP_USER", "name to sign in at the mail server; empty: none")
    smtp_password: str = setting("", "BAYLORE_SMTP_PASSWORD", "password at the mail server")
    smtp_from: str = setting("", "BAYLORE_SMTP_FROM", "sender of mails; empty: the first address they go to")
    smtp_to: str = setting("", "BAYLORE_SMTP_TO", "addresses, by comma, that hear of alerts by mail")

    @classmethod
    def from_env(cls, environ: Mapping[str, str] | None = None) -> Settings:
        """Settings of this environment, each by its name or, with _FILE behind it, as the text of a file.

        Raises SettingRefused for a value that cannot be.
        """
        env = os.environ if environ is None else environ
        found: dict[str, Any] = {}
        for each in fields(cls):
            text = next(filter(None, (_given(env, name) for name in each.metadata["names"])), None)
            if text is not None:
                found[each.name] = _parsed(each.metadata, type(each.default), text)
        return cls(**found)

    @property
    def store_url(self) -> str:
        """The address of the store, with the driver we use named."""
        if not self.database_url:
            return f"sqlite:///{self.data / 'baylore.db'}"
        return with_driver(self.database_url)

    @property
    def replica_url(self) -> str:
        """The address of the replica, with the driver we use named; empty where there is none."""
        return with_driver(self.read_url)

    @property
    def public_address(self) -> str:
        """What sign-in links begin with, without a slash at the end."""
        return (self.address or f"http://{self.host}:{self.port}").rstrip("/")


def with_driver(address: str) -> str:
    """An address with the driver we use named, and several hosts (h1:p1,h2:p2) written as it reads them."""
    scheme, _, rest = address.partition("://")
    if scheme != "postgresql":
        return address
    place, slash, tail = rest.partition("/")
    user, at, hosts = place.rpartition("@")
    if "," not in hosts:
        return f"postgresql+psycopg://{rest}"
    pairs = [each.rpartition(":") if ":" in each else (each, "", "5432") for each in hosts.split(",")]
    name, _, options = tail.partition("?")
    many = f"host={','.join(pair[0] for pair in pairs)}&port={','.join(pair[2] for pair in pairs)}"
    return f"postgresql+psycopg://{user}{at}/{name}?{many}{'&' + options if options else ''}"


def _given(env: Mapping[str, str], name: str) -> str:
    """What a variable says, else the file that NAME_FILE names; empty for neither."""
    if env.get(name) or not (path := env.get(f"{name}_FILE")):
        return env.get(name, "")
    try:
        return Path(path).read_text().strip()
    except (OSError, UnicodeDecodeError) as error:
        raise SettingRefused(
            f"{name}_FILE names {path!r}, which cannot be read",
            field=f"{name}_FILE",
            remedy="name a file of text that the service's user may read",
        ) from error


def _parsed(metadata: Mapping[str, Any], kind: type, text: str) -> Any:
    """The text of a variable as its field's kind, within its limits."""
    name = metadata["names"][0]
    if kind in (int, float):
        return _number(name, text, kind, metadata)
    if name == "BAYLORE_TRUSTED_PROXIES":
        _nets(name, text)
    if name in CHOICES and text.lower() not in CHOICES[name]:
        raise SettingRefused(
            f"{name} is {text!r}", field=name, remedy=f"set it to one of {', '.join(CHOICES[name])}"
        )
    return text.lower() if name in CHOICES else kind(text)


def _nets(name: str, text: str) -> None:
    """Raises SettingRefused for what is no address or net."""
    for each in text.split(","):
        try:
            ip_network(each.strip(), strict=False)
        except ValueError as error:
            remedy = "set addresses or nets by comma, as in 127.0.0.1, 10.0.0.0/8"
            raise SettingRefused(f"{name} holds {each.strip()!r}", field=name, remedy=remedy) from error


def _number(name: str, text: str, kind: type, limits: Mapping[str, Any]) -> Any:
    """A number of this kind within its limits."""
    least, most = limits["least"], limits["most"]
    shape = r"\s*\d+\s*" if kind is int else r"\s*\d+(\.\d+)?\s*"
    if re.fullmatch(shape, text) and least <= kind(text) <= most:
        return kind(text)
    what = "a whole number" if kind is int else "a number"
    raise SettingRefused(f"{name} is {text!r}", field=name, remedy=f"set {what} from {least} to {most}")
