"""What can be measured of a screen: sizes of targets, contrast of text, width."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

TAPPED = "button, a[href], input, select, textarea, summary, label.button"
MAIN = ".button.main, .stub"

SMALL_TARGETS = """
([least, wanted]) => [...document.querySelectorAll(wanted)]
  .filter(each => each.checkVisibility() && !each.classList.contains('spoken'))
  .filter(each => !document.querySelector('dialog[open]') || each.closest('dialog[open]'))
  .map(each => ({ box: each.getBoundingClientRect(), words: each.innerText || each.ariaLabel || each.id }))
  .filter(({ box }) => box.width > 0 && (box.width < least || box.height < least))
  .map(({ box, words }) => `${words.slice(0, 40)}: ${box.width.toFixed(0)} x ${box.height.toFixed(0)}`)
"""

WEAK_TEXT = """
least => {
  const parsed = text => (text.match(/[\\d.]+/g) || []).map(Number);
  const over = ([r, g, b, a = 1], under) => [r, g, b].map((part, i) => part * a + under[i] * (1 - a));
  const ground = node => {
    const chain = [];
    const colour = each => parsed(getComputedStyle(each).backgroundColor);
    for (let each = node; each; each = each.parentElement) chain.push(colour(each));
    return chain.reverse().reduce((below, colour) => over(colour, below), [255, 255, 255]);
  };
  const light = colour => colour.map(part => part / 255)
    .map(part => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)
    .reduce((sum, part, i) => sum + part * [0.2126, 0.7152, 0.0722][i], 0);
  const ratio = (one, two) => {
    const [low, high] = [light(one), light(two)].sort((a, b) => a - b);
    return (high + 0.05) / (low + 0.05);
  };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const weak = [];
  while (walker.nextNode()) {
    const text = walker.currentNode, node = text.parentElement;
    if (!text.data.trim() || !node.checkVisibility() || node.closest('.spoken, datalist, noscript')) continue;
    const behind = ground(node);
    const style = getComputedStyle(node);
    const front = node.namespaceURI.endsWith('svg') ? parsed(style.fill) : parsed(style.color);
    const found = ratio(over(front, behind), behind);
    if (found < least) weak.push(`${text.data.trim().slice(0, 40)}: ${found.toFixed(2)}`);
  }
  return weak;
}
"""


def small_targets(page: Page, least_px: int, wanted: str = TAPPED) -> list[str]:
    """Things to tap that are narrower or lower than `least_px`, with their size."""
    found: list[str] = page.evaluate(SMALL_TARGETS, [least_px, wanted])
    return found


def weak_text(page: Page, least_ratio: float) -> list[str]:
    """Texts with less contrast to their ground than asked (WCAG 2.2 relative luminance)."""
    found: list[str] = page.evaluate(WEAK_TEXT, least_ratio)
    return found


def overflow_px(page: Page) -> Any:
    """How many pixels the page is wider than its window; 0 when it fits."""
    return page.evaluate("document.documentElement.scrollWidth - innerWidth")
