"""The command line: plain words, exit codes, and never a traceback for what can be foreseen."""

from __future__ import annotations

import json
import socket
from pathlib import Path

import pytest
from tests.service.app_fixtures import CAR, COMPLAINT

from baylore_service.cli import main
from baylore_service.desk import members, shops
from baylore_service.desk.house import House
from baylore_service.settings import Settings

# A PostgreSQL is kept by its own programs.
on_sqlite = pytest.mark.parametrize("stored", ["sqlite"], indirect=True)


@pytest.fixture
def shop(settings: Settings, monkeypatch: pytest.MonkeyPatch) -> Settings:
    """A migrated store the command line finds."""
    for name in ("BAYLORE_DATABASE_URL", "PORT", "HOST", "BAYLORE_PORT", "BAYLORE_HOST", "BAYLORE_ADDRESS"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("BAYLORE_DATA", str(settings.data))
    monkeypatch.setenv("BAYLORE_DATABASE_URL", settings.database_url)
    return settings


def add(*options: str) -> int:
    """One member added."""
    return main(["member", "add", "--name", "Mara", "--role", "manager", *options])


def line_after(out: str, mark: str) -> str:
    """The rest of the one line that begins with a mark."""
    (found,) = (line.removeprefix(mark) for line in out.splitlines() if line.startswith(mark))
    return found


def test_a_new_store_is_migrated_once_and_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("BAYLORE_DATA", str(tmp_path / "new"))
    assert main(["migrate"]) == 0 and main(["migrate"]) == 0
    assert "schema" in capsys.readouterr().out and (tmp_path / "new" / "baylore.db").is_file()


def test_an_unmigrated_store_is_named_with_what_helps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("BAYLORE_DATA", str(tmp_path))
    assert main(["verify"]) == 1
    assert "baylore migrate" in capsys.readouterr().err


def test_a_member_is_added_with_a_token_that_signs_in(
    shop: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    assert add("--token", "--skill", "4", "--shop", "Corner Garage") == 0
    out = capsys.readouterr().out
    house = House.open(shop)
    actor = members.who(house, line_after(out, "token: "))
    assert (actor.member.id, actor.member.skill) == (line_after(out, "member: "), 4)
    assert actor.shop.name == "Corner Garage"
    house.close()


def test_a_given_token_is_taken_as_it_is(shop: Settings, capsys: pytest.CaptureFixture[str]) -> None:
    given = "a-token-of-twenty-or-more-signs"
    assert add("--token", given) == 0
    assert line_after(capsys.readouterr().out, "token: ") == given


def test_a_short_token_is_refused_and_nobody_is_added(
    shop: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    assert add("--token", "nineteen-characters") == 1
    assert "20 or more" in capsys.readouterr().err
    house = House.open(shop)
    assert shops.list_shops(house) == ()
    house.close()


def test_a_member_without_a_token_gets_none(shop: Settings, capsys: pytest.CaptureFixture[str]) -> None:
    assert add() == 0
    assert "token" not in capsys.readouterr().out


def test_a_link_signs_a_member_in(shop: Settings, capsys: pytest.CaptureFixture[str]) -> None:
    add()
    assert main(["link", "--member", "mara"]) == 0
    code = capsys.readouterr().out.strip().rpartition("/#/join/")[2]
    house = House.open(shop)
    assert members.join(house, code, "phone")[1].member.name == "Mara"
    house.close()


def test_a_link_for_nobody_names_those_who_are_there(
    shop: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    add()
    assert main(["link", "--member", "Nobody"]) == 1
    assert "Mara" in capsys.readouterr().err


def test_without_a_shop_the_way_to_one_is_told(shop: Settings, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["link", "--member", "Mara"]) == 1
    assert "--shop" in capsys.readouterr().err


def test_lines_go_in_and_come_out_again(
    shop: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    add()
    source, copy = tmp_path / "in.ndjson", tmp_path / "out.ndjson"
    source.write_text(
        "".join(json.dumps({"complaint": f"noise {n}", "vehicle": CAR}) + "\n" for n in range(3))
    )
    assert main(["import", str(source)]) == 0 and main(["import", str(source)]) == 0
    assert main(["export", str(copy)]) == 0 and main(["import", str(copy)]) == 0
    out = capsys.readouterr().out
    assert out.count("added 3,") == 1 and out.count("unchanged 3,") == 2
    assert [json.loads(line)["kind"] for line in copy.read_text().splitlines()] == ["shop", *["case"] * 3]


def test_a_bad_line_is_named_and_the_file_refused(
    shop: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    add()
    source = tmp_path / "in.ndjson"
    source.write_text(json.dumps({"complaint": COMPLAINT}) + '\n{"complaint": "x", "codes": ["Z9"]}\n')
    assert main(["import", str(source)]) == 1
    assert "line 2:" in capsys.readouterr().err
    assert main(["import", str(source), "--mode", "report"]) == 1
    assert "added 1," in capsys.readouterr().out


def test_what_was_written_down_before_is_told_in_a_line_and_taken(
    shop: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    add()
    source = tmp_path / "in.ndjson"
    car = CAR | {"odometer": {"value": 141_000, "unit": "km"}}
    said = {"complaint": COMPLAINT, "vehicle": car, "opened": "2026-03-02T09:00:00Z"}
    lines = [said, said | {"id": "5b0c8a5e-3f53-4a51-9a35-3c1a9a5d9b01"}, said | {"note": "seen twice"}]
    source.write_text("".join(json.dumps(line) + "\n" for line in lines))
    assert main(["import", str(source)]) == 0
    out = capsys.readouterr().out
    assert "added 3," in out and "1 the very same, 1 nearly (2 in the file itself)" in out
    assert "line 2, case 5b0c8a5e" in out and "as line 1 (same car, same day" in out
    assert main(["import", str(source)]) == 0
    assert "written down before" not in capsys.readouterr().out


@on_sqlite
def test_a_backup_is_taken_back(shop: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    add()
    kept = tmp_path / "kept" / "store.db"
    kept.parent.mkdir()
    assert main(["backup", str(kept)]) == 0
    main(["member", "add", "--name", "Late", "--role", "technician"])
    assert main(["restore", str(kept)]) == 0 and main(["verify"]) == 0
    capsys.readouterr()
    assert main(["link", "--member", "Late"]) == 1


@on_sqlite
def test_a_file_that_is_no_backup_is_refused(
    shop: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    add()
    (tmp_path / "odd").write_text("not a store")
    assert main(["restore", str(tmp_path / "odd")]) == 1
    assert "another backup" in capsys.readouterr().err
    assert main(["verify"]) == 0


@on_sqlite
@pytest.mark.parametrize("command", ["import", "restore"])
def test_a_missing_file_is_said_plainly(
    shop: Settings, tmp_path: Path, command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    add()
    assert main([command, str(tmp_path / "missing")]) == 1
    err = capsys.readouterr().err
    assert err.startswith("baylore: ") and "missing" in err and "Traceback" not in err


def test_checks_are_listed_one_by_one(shop: Settings, capsys: pytest.CaptureFixture[str]) -> None:
    add()
    capsys.readouterr()
    assert main(["verify"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) > 4 and all(line.startswith("ok ") for line in lines)


def test_a_port_in_use_is_refused(shop: Settings, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert main(["serve", "--host", "0.0.0.0", "--port", str(port)]) == 1
    assert f"port {port}" in capsys.readouterr().err


def test_a_setting_that_cannot_be_is_named(
    shop: Settings, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("BAYLORE_PORT", "many")
    assert main(["migrate"]) == 1
    assert "BAYLORE_PORT is 'many'" in capsys.readouterr().err


def test_an_unknown_command_is_not_understood(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["fly"])
    assert stop.value.code == 2 and "serve" in capsys.readouterr().err
