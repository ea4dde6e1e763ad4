"""Ranked search in texts, by words, from compact arrays: a million notes in one process."""

from baylore_kb.recall.text_index import TextIndex

__all__ = ["TextIndex"]
