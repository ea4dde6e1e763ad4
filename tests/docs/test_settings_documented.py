"""Every setting is documented with its default, and nothing else is."""

from dataclasses import fields
from pathlib import Path

import pytest

from baylore_service.settings import Settings

EXAMPLE = Path(__file__).parents[2] / "deploy" / "env.example"


@pytest.mark.parametrize("setting", fields(Settings), ids=lambda setting: setting.name)
def test_a_setting_stands_in_the_example_with_its_meaning_and_default(setting):
    text = EXAMPLE.read_text()
    assert setting.metadata["meaning"] in text
    assert f"{setting.metadata['names'][0]}={setting.default}\n" in text


def test_the_example_as_it_stands_gives_the_default_settings():
    lines = [line for line in EXAMPLE.read_text().splitlines() if line and not line.startswith("#")]
    assert Settings.from_env(dict(line.split("=", 1) for line in lines)) == Settings()
