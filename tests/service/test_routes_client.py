"""The phone client's files as the service hands them out."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.service.app_fixtures import Floor
from tests.service.test_routes_refusals import check_problem

from baylore_service.routes import client as routes


@pytest.fixture
def built(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A built client."""
    folder = tmp_path / "dist"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text("<!doctype html><title>Baylore</title>")
    (folder / "sw.js").write_text("self.addEventListener('fetch', () => {})")
    (folder / "app.webmanifest").write_text("{}")
    (folder / "assets" / "app-4f2a.js").write_text("export {}")
    (tmp_path / "secret.txt").write_text("not for you")
    monkeypatch.setattr(routes, "PLACES", (folder,))
    return folder


def test_the_page_comes_fresh_also_for_addresses_the_client_routes(floor: Floor, built: Path) -> None:
    for path in ("/", "/case/7", "/join/abc"):
        answer = floor.client.get(path)
        assert (answer.status_code, answer.headers["cache-control"]) == (200, "no-cache")
        assert answer.text.startswith("<!doctype html>")
        assert answer.headers["content-type"] == "text/html; charset=utf-8"


@pytest.mark.parametrize(
    ("path", "kind", "kept"),
    [
        ("/sw.js", "text/javascript; charset=utf-8", "no-cache"),
        ("/app.webmanifest", "application/manifest+json", "no-cache"),
        ("/assets/app-4f2a.js", "text/javascript; charset=utf-8", "public, max-age=31536000, immutable"),
    ],
)
def test_files_come_with_their_kind_and_how_long_they_keep(
    floor: Floor, built: Path, path: str, kind: str, kept: str
) -> None:
    answer = floor.client.get(path)
    assert (answer.headers["content-type"], answer.headers["cache-control"]) == (kind, kept)
    again = floor.client.get(path, headers={"If-None-Match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.parametrize("path", ["/assets/app-0000.js", "/assets/app", "/missing.js"])
def test_a_missing_script_is_not_answered_with_the_page(floor: Floor, built: Path, path: str) -> None:
    check_problem(floor.client.get(path), 404)


@pytest.mark.parametrize("path", ["/../secret.txt", "/%2e%2e/secret.txt", "/assets/..%2f..%2fsecret.txt"])
def test_nothing_outside_the_client_is_handed_out(floor: Floor, built: Path, path: str) -> None:
    assert "not for you" not in floor.client.get(path).text


def test_without_a_built_client_a_page_says_how_to_build_it(
    floor: Floor, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(routes, "PLACES", (tmp_path / "none",))
    assert "npm run build" in floor.client.get("/").text
    check_problem(floor.client.get("/case/7"), 404)
