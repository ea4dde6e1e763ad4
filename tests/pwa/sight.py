"""What axe-core finds on a screen, and which controls the keyboard does not reach."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page

AXE = Path(__file__).parents[2] / "pwa" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
FULL = "wcag2aaa"

RUN = """
tags => axe.run(document, { runOnly: tags, resultTypes: ['violations'], reporter: 'v2' })
  .then(({ violations }) => violations.flatMap(({ id, nodes }) => nodes.map(each => `${id}: ${each.target}`)))
"""

CONTROLS = """
() => {
  const over = document.querySelector('dialog[open]') ?? document;
  const wanted = 'button, a[href], input, select, textarea, summary, [tabindex="0"]';
  return [...over.querySelectorAll(wanted)]
    .filter(each => each.checkVisibility() && !each.disabled)
    .map((each, place) => { each.dataset.reached = 'no'; return place; }).length;
}
"""

REACHED = """
() => {
  const at = document.activeElement;
  if (!at || at === document.body || at.dataset.reached === 'yes') return false;
  if (at.dataset.reached) at.dataset.reached = 'yes';
  return true;
}
"""

LEFT = """
() => [...document.querySelectorAll('[data-reached="no"]')]
  .map(each => each.innerText || each.ariaLabel || each.labels?.[0]?.innerText || each.outerHTML)
  .map(words => words.slice(0, 60))
"""


def axe_source() -> str:
    """The checker's script; the test is left out where the client's tools are not installed."""
    if not AXE.is_file():
        pytest.skip("axe-core is not installed (cd pwa && npm ci)")
    return AXE.read_text()


def violations(page: Page) -> list[str]:
    """Each rule broken and where, for WCAG 2.2 A and AA, its enhanced contrast, and good practice."""
    if page.evaluate("typeof axe === 'undefined'"):
        page.evaluate(axe_source())
    found: list[str] = page.evaluate(RUN, [*RULES, FULL])
    return found


def unreached(page: Page) -> list[str]:
    """Controls in sight that the Tab key does not come to."""
    many = page.evaluate(CONTROLS)
    page.evaluate("document.activeElement?.blur()")
    for _ in range(2 * many + 20):
        page.keyboard.press("Tab")
        page.evaluate(REACHED)
        if not page.evaluate("document.querySelector('[data-reached=\"no\"]') !== null"):
            break
    left: list[str] = page.evaluate(LEFT)
    page.evaluate(
        "for (const each of document.querySelectorAll('[data-reached]')) delete each.dataset.reached"
    )
    return left
