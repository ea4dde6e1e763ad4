"""What only the trade lists decide, made once and shared by every snapshot on them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baylore_kb.mend import phrases_read
from baylore_kb.once_each import once_each
from baylore_kb.spelling import Speller
from baylore_kb.symptoms import SymptomSpotter
from baylore_kb.text import Analyzer
from baylore_kb.trade import Trade
from baylore_kb.trade.own import ShopTrade, meanings
from baylore_kb.vocabulary import Phrase, trade_words


@dataclass(frozen=True, slots=True)
class Tools:
    """Analyzer, spotter and words of one set of trade lists; nothing in it changes."""

    trade: Trade
    analyzer: Analyzer
    spotter: SymptomSpotter
    known: Mapping[str, int]
    phrases: Mapping[tuple[str, ...], Phrase]
    short_hand: Speller


def _widened(shipped: Tools, trade: ShopTrade) -> Tools:
    """The shipped tools that also find a shop's own parts and know its words and what they stand for.

    Symptoms are heard by the shipped phrasings alone, so that a change of the shop's lists leaves what was
    heard in its cases as it was, but where its own words stand.
    """
    spotter = shipped.spotter.naming(trade)
    analyzer = Analyzer(trade) if meanings(trade) else shipped.analyzer
    return Tools(trade, analyzer, spotter, trade_words(trade), shipped.phrases, shipped.short_hand)


@once_each
def tools_for(trade: Trade) -> Tools:
    """The tools of these trade lists; the same object asked again gives the same tools."""
    if isinstance(trade, ShopTrade):
        return _widened(tools_for(trade.shipped), trade)
    analyzer = Analyzer(trade)
    words = trade_words(trade)
    spotter, phrases = SymptomSpotter(trade, analyzer), phrases_read(trade)
    return Tools(trade, analyzer, spotter, words, phrases, Speller(words=words))
