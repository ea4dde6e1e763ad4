"""The wheel alone carries what a shop needs: migrations and the built client."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    if not (ROOT / "pwa" / "dist" / "index.html").exists():
        pytest.skip("the phone client is not built")
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)]
    subprocess.run(build, check=True, capture_output=True)
    wheel = next(folder.glob("*.whl"))
    zipfile.ZipFile(wheel).extractall(folder / "site")
    return folder


def run(folder: Path, *arguments: str) -> str:
    env = {
        **os.environ,
        "PYTHONPATH": str(folder / "site"),
        "BAYLORE_DATA": str(folder / "data"),
    }
    code = (
        "import sys, baylore_service.cli as cli;"
        f"assert cli.__file__.startswith({str(folder)!r});"
        f"sys.exit(cli.main({list(arguments)!r}))"
    )
    return subprocess.check_output([sys.executable, "-c", code], env=env, cwd=folder, text=True)


def test_the_wheel_migrates_and_adds_a_member_without_a_checkout(installed):
    run(installed, "migrate")
    assert "token: " in run(installed, "member", "add", "--name", "Desk", "--role", "technician", "--token")


def test_the_wheel_carries_the_built_client(installed):
    assert (installed / "site" / "baylore_service" / "client" / "index.html").exists()
