"""Which baylore this is: its version, and a digest of its code that tells two builds of one version apart."""

from __future__ import annotations

from hashlib import blake2b
from importlib.metadata import version
from pathlib import Path

import baylore_kb

PACKAGES = (Path(__file__).parent, Path(baylore_kb.__file__).parent)


def digest_of_code() -> str:
    """Ten hex digits of all Python files and trade lists; the same code gives the same."""
    digest = blake2b(digest_size=5)
    for package in PACKAGES:
        files = (file for file in package.rglob("*") if file.suffix in (".py", ".yaml"))
        for file in sorted(files, key=lambda file: file.relative_to(package).as_posix()):
            digest.update(file.relative_to(package).as_posix().encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()


VERSION = version("baylore")
BUILD = digest_of_code()
