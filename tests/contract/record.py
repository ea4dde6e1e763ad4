"""Writes the contract's bodies anew from the running service: `python -m tests.contract.record`."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

from litestar.testing import TestClient
from tests.contract.story import told
from tests.service.app_fixtures import Floor, people

from baylore_service.app import create_app
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

FOLDER = Path(__file__).parent


def record() -> None:
    """Tell the story to a fresh service and keep what was said, one file an exchange."""
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(data=Path(folder))
        upgrade(settings.store_url)
        with TestClient(create_app(settings)) as client:
            house = client.app.state.house
            people(house)
            for each in told(Floor(client, house, settings)):
                text = json.dumps(each.as_json(), indent=1, ensure_ascii=False)
                (FOLDER / f"{each.name}.json").write_text(text + "\n")


if __name__ == "__main__":
    record()
