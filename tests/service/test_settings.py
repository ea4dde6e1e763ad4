"""The settings: defaults, variables, refusals."""

from __future__ import annotations

import re
from dataclasses import FrozenInstanceError, fields
from pathlib import Path

import pytest

from baylore_service.errors import SettingRefused
from baylore_service.settings import Settings

READS = re.compile(r"os\.environ|getenv|from os import")
SERVICE = Path(__file__).parents[2] / "service" / "baylore_service"


def test_an_empty_environment_gives_the_defaults() -> None:
    settings = Settings.from_env({})
    assert settings == Settings() and settings.store_url == "sqlite:///var/baylore/baylore.db"
    assert settings.public_address == "http://127.0.0.1:8000"


def test_every_setting_is_read_from_its_first_variable() -> None:
    given = {each.metadata["names"][0]: str(each.metadata.get("most", "10000")) for each in fields(Settings)}
    given |= {"BAYLORE_LOG_LEVEL": "warning", "BAYLORE_TRUSTED_PROXIES": "10.0.0.0/8"}
    given |= {"BAYLORE_CANDIDATES": "database"}
    changed = Settings.from_env(given)
    assert [each.name for each in fields(Settings) if getattr(changed, each.name) == each.default] == []


def test_the_own_variable_wins_over_the_common_one() -> None:
    assert Settings.from_env({"PORT": "9000"}).port == 9000
    assert Settings.from_env({"PORT": "9000", "BAYLORE_PORT": "9001"}).port == 9001
    assert Settings.from_env({"PORT": "9000", "BAYLORE_PORT": ""}).port == 9000


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("BAYLORE_PORT", "eighty"),
        ("BAYLORE_PORT", "0"),
        ("BAYLORE_PORT", "70000"),
        ("BAYLORE_PORT", "-1"),
        ("BAYLORE_LOG_LEVEL", "loud"),
        ("BAYLORE_TRUSTED_PROXIES", "all"),
        ("BAYLORE_MAX_ADVICE", "1e3"),
    ],
)
def test_a_value_that_cannot_be_names_its_variable_and_what_can(name: str, text: str) -> None:
    with pytest.raises(SettingRefused, match=text) as refused:
        Settings.from_env({name: text})
    assert refused.value.field == name and refused.value.remedy.startswith("set ")


def test_a_postgresql_address_gets_its_driver() -> None:
    settings = Settings.from_env({"BAYLORE_DATABASE_URL": "postgresql://u@h/db"})
    assert settings.store_url == "postgresql+psycopg://u@h/db"


def test_settings_stay_as_they_were_read() -> None:
    with pytest.raises(FrozenInstanceError):
        Settings().port = 1  # type: ignore[misc]


def test_every_setting_says_what_it_means() -> None:
    assert all(each.metadata["meaning"] and each.metadata["names"] for each in fields(Settings))


def test_nothing_else_reads_the_environment() -> None:
    readers = [file.name for file in SERVICE.rglob("*.py") if READS.search(file.read_text())]
    assert readers == ["settings.py"]


def test_candidates_come_from_one_of_two_places() -> None:
    with pytest.raises(SettingRefused, match="nowhere") as refused:
        Settings.from_env({"BAYLORE_CANDIDATES": "nowhere"})
    assert "memory, database" in refused.value.remedy


def test_an_address_may_name_several_hosts() -> None:
    url = "postgresql://u:p@one:5433,two/db?target_session_attrs=primary"
    assert Settings(database_url=url).store_url == (
        "postgresql+psycopg://u:p@/db?host=one,two&port=5433,5432&target_session_attrs=primary"
    )


def test_a_setting_can_stand_in_a_file_of_its_own(tmp_path: Path) -> None:
    secret = tmp_path / "password"
    secret.write_text("hush hush\n")
    assert Settings.from_env({"BAYLORE_SMTP_PASSWORD_FILE": str(secret)}).smtp_password == "hush hush"
    both = {"BAYLORE_SMTP_PASSWORD_FILE": str(secret), "BAYLORE_SMTP_PASSWORD": "said"}
    assert Settings.from_env(both).smtp_password == "said"
    with pytest.raises(SettingRefused, match="BAYLORE_SMTP_PASSWORD_FILE names"):
        Settings.from_env({"BAYLORE_SMTP_PASSWORD_FILE": str(tmp_path / "nothing")})
