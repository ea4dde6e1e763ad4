"""The command line: `baylore serve | migrate | demo | member | link | import | export | ...`."""

from __future__ import annotations

import argparse
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

from baylore_kb import score as scoring
from baylore_kb.errors import BayloreError
from baylore_kb.simulate import simulate, small
from baylore_service import demo, serving
from baylore_service.desk import members, safekeeping, shops, transfer, tuning
from baylore_service.desk.doubles import Doubles
from baylore_service.desk.house import House
from baylore_service.desk.terms import terms_of
from baylore_service.errors import BadLine, ImportRefused, ServiceError, SettingRefused
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade
from baylore_service.store.records import Member, Shop
from baylore_service.wire.enrolment import link_of
from baylore_service.wire.read import Reader
from baylore_service.wire.read_line import line_parser, own_lines
from baylore_service.wire.show_transfer import line_of

Args = argparse.Namespace
SMALL_PROBLEMS = 40
SHOWN = 20
MIN_TOKEN = 20
# A client gets this long to send its headers, and this much room for them.


def main(argv: list[str] | None = None) -> int:
    """Run one command. Returns 0, 1 when it was refused, 2 when it was not understood."""
    args = parser().parse_args(argv)
    try:
        code: int = args.run(args, Settings.from_env())
        return code
    except (ServiceError, BayloreError) as error:
        fail(error.message, error.remedy)
    except OSError as error:
        fail(f"{error.filename or 'file'}: {error.strerror}", "check the path and its rights")
    except KeyboardInterrupt:
        return 130
    return 1


def fail(message: str, remedy: str) -> None:
    """Say what went wrong and what helps."""
    print(f"baylore: {message}", file=sys.stderr)
    if remedy:
        print(f"  {remedy}", file=sys.stderr)


@contextmanager
def open_house(settings: Settings) -> Iterator[House]:
    """The wired house of a migrated store."""
    house = House.open(settings)
    try:
        yield house
    finally:
        house.close()


def the_shop(house: House, name: str | None) -> Shop:
    """The shop of that name, else the first. Raises ServiceError when there is none."""
    found = [each for each in shops.list_shops(house) if name is None or each.name == name]
    if found:
        return found[0]
    what = f"there is no shop {name!r}" if name else "there is no shop yet"
    raise SettingRefused(what, remedy="add a member with --shop NAME to make it, or load the demo shop")


def serve(args: Args, settings: Settings) -> int:
    """Serve until stopped."""
    settings = replace(
        settings,
        host=args.host or settings.host,
        port=args.port or settings.port,
        workers=args.workers or settings.workers,
    )
    refuse_taken_port(settings.host, settings.port)
    upgrade(settings.store_url)
    # Beside the log, which is one JSON object a line.
    print(f"serving on http://{settings.host}:{settings.port}, stop with Ctrl-C", file=sys.stderr, flush=True)
    serving.serve(settings)
    return 0


def refuse_taken_port(host: str, port: int) -> None:
    """Raises SettingRefused where something answers already: two servers can share a port unseen."""
    near = {"0.0.0.0": "127.0.0.1", "::": "::1"}.get(host, host)
    try:
        socket.create_connection((near, port), timeout=1).close()
    except OSError:
        return
    raise SettingRefused(
        f"port {port} of {host} is in use",
        field="port",
        remedy="stop what runs there, or give another --port",
    )


def migrate(args: Args, settings: Settings) -> int:
    """Bring the store to the newest schema."""
    revision = upgrade(settings.store_url)
    print(f"the store is at schema {revision}", flush=True)
    return 0


def load_demo(args: Args, settings: Settings) -> int:
    """Load the demo shop, or print fresh sign-in links for it."""
    with open_house(settings) as house:
        loaded = demo.load(house)
        print(f"the demo shop {loaded.shop.name!r} is there", flush=True)
        if args.links:
            for member in (loaded.technician, loaded.manager):
                print_link(house, loaded.shop, member)
    return 0


def print_link(house: House, shop: Shop, member: Member) -> None:
    """One line with a sign-in link."""
    made = members.enrol(house, shops.console(shop), member.id)
    link = link_of(made.code, house.settings.public_address)
    print(f"sign in as {member.name} ({member.role}): {link}", flush=True)


def add_member(args: Args, settings: Settings) -> int:
    """Add a member, with a device token when asked."""
    if args.token and len(args.token) < MIN_TOKEN:
        raise SettingRefused(
            f"a token of {len(args.token)} characters is too easy to guess",
            field="token",
            remedy=f"give {MIN_TOKEN} or more characters, or --token alone for a new one",
        )
    with open_house(settings) as house:
        shop = shop_or_new(house, args.shop)
        added = members.add_member(
            house, shops.console(shop), name=args.name, role=args.role, skill=args.skill
        )
        print(f"member: {added.id}")
        if args.token is not None:
            print(f"token: {members.issue_token(house, added.id, 'command line', args.token or None)}")
    return 0


def shop_or_new(house: House, name: str | None) -> Shop:
    """The shop of that name, made where it is not there yet; without a name the first one."""
    found = [each for each in shops.list_shops(house) if name is None or each.name == name]
    return found[0] if found else shops.create_shop(house, name=name or "My shop")


def link(args: Args, settings: Settings) -> int:
    """Print a fresh sign-in link for a member."""
    with open_house(settings) as house:
        shop = the_shop(house, args.shop)
        everyone = members.list_members(house, shops.console(shop))
        found = [each for each in everyone if each.name.casefold() == args.member.casefold()]
        if not found:
            names = ", ".join(each.name for each in everyone) or "nobody"
            raise SettingRefused(
                f"{shop.name!r} has no member {args.member!r}", remedy=f"its members: {names}"
            )
        print_link(house, shop, found[0])
    return 0


def import_file(args: Args, settings: Settings) -> int:
    """Take a file of JSON Lines in."""
    with open_house(settings) as house, args.file.open("rb") as lines:
        actor = shops.console(the_shop(house, args.shop))
        reader = Reader(house.trade_of(actor), house.now())
        parse, mine = line_parser(reader), own_lines(reader)
        try:
            report = transfer.import_lines(house, actor, lines, parse=parse, own_lines=mine, mode=args.mode)
        except ImportRefused as refused:
            print_lines(refused.lines)
            raise
    print_lines(report.lines)
    done = (f"{what} {getattr(report, what)}" for what in ("added", "updated", "unchanged", "refused"))
    print(", ".join(done))
    print_doubles(report.doubles)
    return 1 if report.refused else 0


def print_lines(lines: tuple[BadLine, ...]) -> None:
    """The lines that cannot be taken, the first of them in full."""
    for bad in lines[:SHOWN]:
        print(f"line {bad.line}: {bad.detail}; {bad.remedy}", file=sys.stderr)
    if len(lines) > SHOWN:
        print(f"... and {len(lines) - SHOWN} more", file=sys.stderr)


def print_doubles(found: Doubles) -> None:
    """How many lines tell of a visit that was written down before, and the first of them."""
    if not found.named:
        return
    print(
        f"written down before: {found.exact} the very same, {found.near} nearly "
        f"({found.in_file} in the file itself); all were taken, none was merged"
    )
    for double in found.named[:SHOWN]:
        of = f"line {double.of_line}" if double.of_line else f"case {double.of}"
        print(f"  line {double.line}, case {double.case}: as {of} ({', '.join(double.why)})")
    if (more := found.exact + found.near - SHOWN) > 0:
        print(f"  ... and {more} more")


def export_file(args: Args, settings: Settings) -> int:
    """Write the whole memory of a shop to a file, in place only when it is whole."""
    part = args.file.with_name(args.file.name + ".part")
    with open_house(settings) as house, part.open("wb") as out:
        actor = shops.console(the_shop(house, args.shop))
        count = 0
        for line in transfer.export_lines(house, actor, render=line_of):
            out.write(line)
            count += 1
    part.replace(args.file)
    print(f"wrote {count} lines to {args.file}")
    return 0


def backup(args: Args, settings: Settings) -> int:
    """Copy the store, checked."""
    with open_house(settings) as house:
        size = safekeeping.backup(house, args.file)
    print(f"wrote a checked backup of {size} bytes to {args.file}")
    return 0


def restore(args: Args, settings: Settings) -> int:
    """Put a backup in the store's place."""
    before = safekeeping.restore(settings, args.file)
    print(f"restored {args.file}" + (f"; the store before is at {before}" if before else ""))
    return migrate(args, settings)


def verify(args: Args, settings: Settings) -> int:
    """Check the store and the indexes."""
    with open_house(settings) as house:
        verdict = safekeeping.verify(house)
    for check in verdict.checks:
        found = f": {check.found}" if check.found else ""
        print(f"{'ok  ' if check.good else 'BAD '} {check.what}{found}")
    return 0 if verdict.good else 1


def score(args: Args, settings: Settings) -> int:
    """Score the shop's own memory, each closed case asked anew without itself; or play invented jobs."""
    if args.simulate:
        return play_jobs(args)
    with open_house(settings) as house:
        shop = the_shop(house, args.shop)
        mind = house.hosts.host(shop.id).mind()
        print(scoring.score(mind.snapshot, terms=terms_of(shop), tuning=mind.tuning).text())
    return 0


def play_jobs(args: Args) -> int:
    """Whole jobs of invented shops, whose truth is known, played by the advice and in other ways."""
    print(simulate(args.seed, closed=args.closed, jobs=args.jobs, towns=args.towns, tuned=True).text())
    print("\n".join(small.lines(small.regrets(args.seed, SMALL_PROBLEMS))))
    return 0


def tune(args: Args, settings: Settings) -> int:
    """Try a tuning on the shop's own cases now; it is used where it does better on cases held out."""
    with open_house(settings) as house:
        tried = tuning.tune(house, the_shop(house, args.shop).id)
    print(f"trial {tried.version}: asked {tried.asked} of {tried.closed} closed cases")
    if tried.shipped_loss is None or tried.tuned_loss is None:
        print("too few closed cases to tune by; the shipped tuning stays")
        return 0
    print(f"mean log loss on held-out cases: shipped {tried.shipped_loss:.4f}, tuned {tried.tuned_loss:.4f}")
    print("adopted: it is used from the next question on" if tried.adopted else "not adopted: not better")
    return 0


def parser() -> argparse.ArgumentParser:
    """The commands and their options."""
    top = argparse.ArgumentParser("baylore", description="A repair shop's fault memory.")
    commands = top.add_subparsers(title="commands", required=True, metavar="COMMAND")

    def command(name: str, run: Callable[[Args, Settings], int], into: Any = commands) -> Any:
        made = into.add_parser(name, help=run.__doc__, description=run.__doc__)
        made.set_defaults(run=run)
        return made

    server = command("serve", serve)
    server.add_argument("--host", help="address to listen on")
    server.add_argument("--port", type=int, help="port to listen on")
    server.add_argument("--workers", type=at_least_one, help="processes that answer, each with all indexes")
    command("migrate", migrate)
    command("demo", load_demo).add_argument(
        "--links", action="store_true", help="print fresh sign-in links for its technician and manager"
    )
    people = commands.add_parser("member", help="Members of a shop.").add_subparsers(required=True)
    member_options(command("add", add_member, people))
    linking = command("link", link)
    linking.add_argument("--member", required=True, metavar="NAME")
    linking.add_argument("--shop", metavar="NAME")
    file_commands(command)
    return top


def at_least_one(text: str) -> int:
    """A whole number from 1. Raises ArgumentTypeError."""
    if text.isdecimal() and int(text) > 0:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no whole number from 1")


def member_options(adding: argparse.ArgumentParser) -> None:
    """The options of `member add`."""
    adding.add_argument("--name", required=True)
    adding.add_argument("--role", required=True, choices=("technician", "manager"))
    adding.add_argument("--skill", type=int, choices=(1, 2, 3, 4), default=3, help="hardest test allowed")
    adding.add_argument("--shop", metavar="NAME", help="made when it is not there; else the first shop")
    adding.add_argument(
        "--token", nargs="?", const="", metavar="VALUE", help="print a device token, new or this one"
    )


def file_commands(command: Callable[..., Any]) -> None:
    """The commands on files, and those on the whole store."""
    for name, run in (("import", import_file), ("export", export_file)):
        made = command(name, run)
        made.add_argument("file", type=Path, metavar="FILE")
        made.add_argument("--shop", metavar="NAME", help="the shop; else the first")
        if run is import_file:
            modes = ("all", "report")
            made.add_argument("--mode", choices=modes, default="all", help="report takes the good lines")
    for name, run in (("backup", backup), ("restore", restore)):
        command(name, run).add_argument("file", type=Path, metavar="FILE")
    command("verify", verify)
    command("tune", tune).add_argument("--shop", metavar="NAME", help="the shop; else the first")
    score_options(command("score", score))


def score_options(made: argparse.ArgumentParser) -> None:
    """The options of `score`."""
    made.add_argument("--shop", metavar="NAME", help="the shop; else the first")
    made.add_argument("--simulate", action="store_true", help="play jobs of invented shops instead")
    for name, usual, what in (
        ("closed", 300, "closed cases of each shop"),
        ("jobs", 50, "jobs in each town"),
        ("towns", 2, "towns, each with its own truth"),
        ("seed", 1, "the same seed plays the same jobs"),
    ):
        made.add_argument(f"--{name}", type=int, default=usual, metavar="N", help=f"{what} ({usual})")


if __name__ == "__main__":
    sys.exit(main())
