"""The README's commands do what it says."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text()
BLOCKS = re.findall(r"```(\w+)\n(.*?)```", README, re.S)


def free_port() -> str:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return str(found.getsockname()[1])


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """`sh deploy/run` as the README says it, on a free port with a fresh data folder, once ready."""
    port, data = free_port(), tmp_path_factory.mktemp("shop")
    env = {**os.environ, "PORT": port, "BAYLORE_DATA": str(data), "BAYLORE_VENV": sys.prefix}
    env.pop("BAYLORE_PORT", None)
    command = ["sh", "deploy/run"]
    run = subprocess.Popen(
        command, cwd=ROOT, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    lines: list[str] = []
    assert run.stdout
    for line in run.stdout:
        lines.append(line)
        if "Ctrl-C" in line and line.startswith("baylore:"):
            break
    yield port, str(data), "".join(lines)
    run.send_signal(signal.SIGTERM)
    run.wait(30)


def test_the_readme_names_both_commands():
    shell = "".join(text for kind, text in BLOCKS if kind == "sh")
    assert "sh deploy/run\n" in shell
    assert "sh deploy/test\n" in shell


def test_deploy_run_serves_and_prints_a_link_for_a_technician_and_a_manager(served):
    port, _, printed = served
    assert f"serving on http://127.0.0.1:{port}" in printed
    assert re.search(rf"\(technician\): http://127\.0\.0\.1:{port}/#/join/\S+", printed)
    assert re.search(rf"\(manager\): http://127\.0\.0\.1:{port}/#/join/\S+", printed)


def test_the_readmes_question_is_answered_by_the_served_shop(served):
    port, data, _ = served
    block = next(text for kind, text in BLOCKS if "member add" in text)
    add, ask = (block.split("\n", 1)[1]).split("curl", 1)
    env = {**os.environ, "BAYLORE_DATA": data}
    add = add.replace(".venv/bin/baylore", f"{sys.prefix}/bin/baylore")
    token = re.search(
        r"token: (\S+)", subprocess.check_output(["sh", "-c", add], cwd=ROOT, env=env, text=True)
    )
    assert token
    asked = "curl" + ask.replace(":8000", f":{port}")
    answer = json.loads(subprocess.check_output(["sh", "-c", asked], env={**env, "TOKEN": token[1]}))
    assert answer["next"]["do"] in {"test", "ask"}
    assert answer["cases"]


def test_the_readmes_notebook_lines_run_as_they_stand():
    code = next(text for kind, text in BLOCKS if kind == "python")
    printed = subprocess.check_output([sys.executable, "-c", code], text=True)
    assert "%" in printed
