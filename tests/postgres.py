"""A private PostgreSQL on loopback for tests: made in a folder of its own, stopped by its process id.

    with cluster() as pg:
        Settings(database_url=pg.address)

`python -m tests.postgres COMMAND ...` runs a command with BAYLORE_TEST_PG set to such a cluster.
"""

from __future__ import annotations

import os
import pwd
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any
from uuid import uuid4

import psycopg

ROLE = "baylore"
PLACES = ("/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/opt/homebrew/opt/postgresql*/bin")
# The data are made up and thrown away: a power cut may take them, a killed process may not.
QUICK = ("fsync=off", "full_page_writes=off")
STARTS_WITHIN_S = 30.0


class NoPostgreSQL(Exception):
    """There is no PostgreSQL server program on this machine, or nobody it may run as."""


def programs() -> Path:
    """The folder of `initdb` and `postgres`, the newest there is. Raises NoPostgreSQL."""
    found = [place for pattern in PLACES for place in sorted(Path("/").glob(pattern[1:]), key=_version)]
    on_path = shutil.which("initdb")
    found += [Path(on_path).resolve().parent] if on_path else []
    usable = [place for place in found if (place / "initdb").exists() and (place / "postgres").exists()]
    if not usable:
        raise NoPostgreSQL("no initdb and postgres were found (Debian: the package postgresql)")
    return usable[-1]


def _version(place: Path) -> tuple[int, str]:
    digits = "".join(filter(str.isdigit, place.parent.name))
    return int(digits or 0), str(place)


def owner() -> dict[str, Any]:
    """How a child is started so that it is not root, which PostgreSQL refuses. Raises NoPostgreSQL."""
    if os.geteuid() != 0:
        return {}
    for name in ("postgres", "nobody"):
        with suppress(KeyError):
            entry = pwd.getpwnam(name)
            return {"user": entry.pw_uid, "group": entry.pw_gid, "extra_groups": []}
    raise NoPostgreSQL("PostgreSQL does not run as root, and there is no user postgres or nobody")


class Cluster:
    """One server over one folder; `address` names its database `baylore`, whose role may do everything."""

    def __init__(self, folder: Path, *, settings: Sequence[str] = ()) -> None:
        self.folder, self.port, self.settings = folder, free_port(), tuple(settings)
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """The address as BAYLORE_DATABASE_URL takes it."""
        return self.address_of("baylore")

    def address_of(self, database: str) -> str:
        """The address of another database of the cluster."""
        return f"postgresql://{ROLE}@127.0.0.1:{self.port}/{database}"

    def make(self) -> None:
        """Make the folder's data; nothing runs yet."""
        command = [
            *("-D", str(self.folder), "-U", ROLE, "--auth=trust"),
            *("--locale=C.UTF-8", "-E", "UTF8", "--no-sync"),
        ]
        self.run("initdb", *command)

    def run(self, program: str, *arguments: str) -> str:
        """Run one of PostgreSQL's programs to its end; what it said."""
        command = [str(programs() / program), *arguments]
        done = subprocess.run(command, cwd="/", capture_output=True, text=True, **owner())
        if done.returncode:
            raise NoPostgreSQL(f"{program} failed: {done.stderr.strip() or done.stdout.strip()}")
        return done.stdout

    def start(self) -> None:
        """Start the server and wait until it answers."""
        given = (
            f"port={self.port}",
            "listen_addresses=127.0.0.1",
            "unix_socket_directories=",
            "max_connections=200",
            *self.settings,
        )
        options = [part for each in given for part in ("-c", each)]
        with (self.folder.parent / f"{self.folder.name}.log").open("ab") as log:
            command = [str(programs() / "postgres"), "-D", str(self.folder), *options]
            self.process = subprocess.Popen(
                command, cwd="/", stdin=subprocess.DEVNULL, stdout=log, stderr=log, **owner()
            )
        self._answers()

    def _answers(self) -> None:
        until = time.monotonic() + STARTS_WITHIN_S
        while time.monotonic() < until and self.running:
            with suppress(psycopg.OperationalError), self.connect("postgres"):
                return
            time.sleep(0.05)
        self.stop()
        raise NoPostgreSQL(f"the server did not start: {self.said()}")

    def said(self) -> str:
        """The end of the server's log."""
        return (self.folder.parent / f"{self.folder.name}.log").read_text()[-2000:]

    @property
    def running(self) -> bool:
        """Whether the server's process lives."""
        return self.process is not None and self.process.poll() is None

    def connect(self, database: str = "baylore") -> psycopg.Connection[Any]:
        """A connection that commits each statement by itself."""
        return psycopg.connect(self.address_of(database), autocommit=True, connect_timeout=5)

    def sql(self, statement: str) -> list[tuple[Any, ...]]:
        """Run a statement of the tests' own; its rows."""
        with self.connect() as connection:
            found = connection.execute(statement.encode())
            return found.fetchall() if found.description else []

    def stop(self) -> None:
        """Stop the server as if the machine were shut down; connections are cut."""
        self._end(signal.SIGINT)

    def kill(self) -> None:
        """End the server and all its processes at once, with no chance to write anything (kill -9).

        Without their server the others notice and die too; that is waited for.
        """
        others = [int(row[0]) for row in self.sql("SELECT pid FROM pg_stat_activity")] if self.running else []
        self._end(signal.SIGKILL)
        until = time.monotonic() + 10
        while time.monotonic() < until and any(Path(f"/proc/{pid}").exists() for pid in others):
            time.sleep(0.02)

    def _end(self, by: signal.Signals) -> None:
        if self.process is None:
            return
        if self.running:
            self.process.send_signal(by)
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.send_signal(signal.SIGQUIT)
            self.process.wait(20)
        self.process = None


def free_port() -> int:
    """A port of loopback that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def own_folder() -> Iterator[Path]:
    """A temporary folder of whoever the servers run as; gone afterwards."""
    folder = Path(tempfile.mkdtemp(prefix="baylore-pg-"))
    try:
        who = owner()
        if who:
            os.chown(folder, who["user"], who["group"])
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def cluster(*, settings: Sequence[str] = QUICK) -> Iterator[Cluster]:
    """A running cluster with an empty database `baylore`, stopped and removed afterwards.

    `settings` are lines as of postgresql.conf. Raises NoPostgreSQL where it cannot be had.
    """
    with own_folder() as folder:
        made = Cluster(folder / "data", settings=settings)
        made.make()
        made.start()
        try:
            with made.connect("postgres") as connection:
                connection.execute("CREATE DATABASE baylore")
            yield made
        finally:
            made.stop()


@contextmanager
def database(address: str, *, template: str = "template1") -> Iterator[str]:
    """A database of its own beside that of an address, copied from a template; its address."""
    name = f"t{uuid4().hex}"
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE {template}".encode())
        try:
            yield beside(address, name)
        finally:
            connection.execute(f"DROP DATABASE {name} WITH (FORCE)".encode())


def beside(address: str, name: str) -> str:
    """The address of another database of the same server."""
    head, _, tail = address.partition("?")
    return f"{head.rpartition('/')[0]}/{name}{'?' + tail if tail else ''}"


def main(command: Sequence[str]) -> int:
    """Run a command with a cluster, or without where there is none, saying so; its exit status."""
    for each in (signal.SIGTERM, signal.SIGHUP):
        signal.signal(each, lambda *_: sys.exit(1))
    if os.environ.get("BAYLORE_TEST_PG"):
        return subprocess.run(command).returncode
    try:
        with cluster() as made:
            return subprocess.run(command, env=os.environ | {"BAYLORE_TEST_PG": made.address}).returncode
    except NoPostgreSQL as missing:
        sys.stderr.write(f"baylore: the tests on PostgreSQL are left out: {missing}\n")
        return subprocess.run(command).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
