"""Lists every component the service and the client are made of, from the locks, as a CycloneDX 1.5 document.

    python deploy/bill.py > bill.json

Whatever asks for known holes by such a list can read it. What is only used to test or build is left out.
"""

from __future__ import annotations

import base64
import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import quote

TOP = Path(__file__).parents[1]
PIN = re.compile(r"^([A-Za-z0-9._-]+)==([^ ;\\]+)(.*?)(?=^\S|\Z)", re.MULTILINE | re.DOTALL)


def bill() -> dict[str, Any]:
    """The whole document."""
    client = json.loads((TOP / "pwa" / "package-lock.json").read_text())
    made = [*of_python((TOP / "deploy" / "requirements.lock").read_text()), *of_node(client)]
    itself = {"type": "application", "name": "baylore", "version": client["version"], "bom-ref": "baylore"}
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "version": 1,
        "metadata": {"component": itself},
        "components": made,
        "dependencies": [{"ref": "baylore", "dependsOn": sorted({each["bom-ref"] for each in made})}],
    }


def of_python(lock: str) -> Iterator[dict[str, Any]]:
    """The pins of a requirements lock with the digests of their files."""
    for name, version, rest in PIN.findall(lock):
        digests = re.findall(r"--hash=sha256:([0-9a-f]{64})", rest)
        hashes = [{"alg": "SHA-256", "content": each} for each in digests]
        yield component(name, version, f"pkg:pypi/{name.lower().replace('_', '-')}@{version}", hashes)


def of_node(lock: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The packages of a node lock that end up in the client."""
    for place, each in lock["packages"].items():
        if place and not each.get("dev") and not each.get("link"):
            name = place.rpartition("node_modules/")[2]
            digest = base64.b64decode(each["integrity"].removeprefix("sha512-")).hex()
            address = f"pkg:npm/{quote(name, safe='/')}@{each['version']}"
            yield component(name, each["version"], address, [{"alg": "SHA-512", "content": digest}])


def component(name: str, version: str, address: str, hashes: list[dict[str, str]]) -> dict[str, Any]:
    """One component."""
    return {
        "type": "library",
        "bom-ref": address,
        "name": name,
        "version": version,
        "purl": address,
        "hashes": hashes,
    }


if __name__ == "__main__":
    json.dump(bill(), sys.stdout, indent=1)
    sys.stdout.write("\n")
