"""A shop's memory whose cases stay in PostgreSQL: filled, counted, searched, and kept up with the changes."""

from baylore_service.far_host.asking import MOST_WALKED, asked
from baylore_service.far_host.counting import recounted
from baylore_service.far_host.filling import reader_of, row_of
from baylore_service.far_host.host import FarHost, SpellingHost
from baylore_service.far_host.source import PostgresSource

__all__ = [
    "MOST_WALKED",
    "FarHost",
    "PostgresSource",
    "SpellingHost",
    "asked",
    "reader_of",
    "recounted",
    "row_of",
]
