"""How the service writes its log: one JSON object a line, without the values of a failing frame."""

from __future__ import annotations

import logging

import structlog

PROCESSORS: tuple[structlog.typing.Processor, ...] = (
    structlog.contextvars.merge_contextvars,
    structlog.processors.add_log_level,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
    # A plain traceback: the pretty one shows local values, and those hold texts and tokens.
    structlog.processors.format_exc_info,
    structlog.processors.JSONRenderer(),
)


def configure(level: str = "info") -> None:
    """Set the log up for this process; doing it again changes nothing."""
    structlog.configure(
        processors=list(PROCESSORS),
        wrapper_class=structlog.make_filtering_bound_logger(logging.getLevelNamesMapping()[level.upper()]),
        logger_factory=structlog.WriteLoggerFactory(),
        cache_logger_on_first_use=False,
    )
