"""Text that stays text in a workbook: no live formula, no character a file cannot hold."""

from __future__ import annotations

import re

LONGEST = 32767
"""Characters a cell holds; longer text is refused, never cut."""

_LIVE = ("=", "+", "-", "@")
_SPACES = re.compile(r"[\t\n\r]+")
_ILLEGAL = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


class TextTooLongError(ValueError):
    """Text no cell can hold."""


def plain(text: str) -> str:
    """The text with line breaks and tabs as spaces, and every character a workbook cannot hold as U+FFFD.

    Raises TextTooLongError.
    """
    shown = text if text.isprintable() else _ILLEGAL.sub("\ufffd", _SPACES.sub(" ", text))
    if len(shown) > LONGEST:
        raise TextTooLongError(f"a text of {len(shown)} characters does not fit a cell, which holds {LONGEST}")
    return shown


def could_come_alive(text: str) -> bool:
    """True for text a spreadsheet would take for a formula when somebody types it anew."""
    return text.lstrip().startswith(_LIVE)
