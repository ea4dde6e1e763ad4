"""The labels of a drafted note, and telling what members wrote from what was drafted around it."""

from __future__ import annotations

COMPLAINT, MEASURED, TESTED, RULED_OUT, CAUSE = "Complaint", "Measured", "Tested", "Ruled out", "Cause"
DONE, IN_VAIN, AFTERWARDS, CHECKED = "Done", "Did not cure", "Afterwards", "Checked"
HALF_CURED, DOUBTED, NOT_TESTED, SHOWS = "Half cured", "Held to be wrong", "Not tested", "Shows"
NOT_SOLVED, ALSO = "Not solved", "Also"
DRAFTED = (
    COMPLAINT,
    MEASURED,
    TESTED,
    RULED_OUT,
    CAUSE,
    DONE,
    IN_VAIN,
    AFTERWARDS,
    CHECKED,
    NOT_SOLVED,
    HALF_CURED,
    DOUBTED,
    NOT_TESTED,
    SHOWS,
)


def own_words(note: str) -> str:
    """What a member wrote: a drafted note without its drafted lines, any other note as it is.

    The engine has complaint, steps and cause already; read a second time as words, what was ruled out
    would make a case look like what it was not.
    """
    lines = note.split("\n")
    drafted = [line for line in lines if _label(line) in DRAFTED]
    if len(drafted) < 2 or _label(lines[0]) != COMPLAINT:
        return note
    own = [line for line in lines if line not in drafted]
    return "\n".join(line.removeprefix(f"{ALSO}: ") for line in own)


def _label(line: str) -> str:
    return line.partition(": ")[0]
