"""Which rule keys a test reads, and whether a stage or a check asks for them or only the test itself."""

from __future__ import annotations

import sys
from pathlib import Path
from types import FrameType
from typing import Any

import elevgen
from elevgen.rules.book import RuleBook

OTHERWISE = " otherwise"
"""Ends the name under which it is noted that a key's alternatives were asked for."""
PRODUCT = str(Path(elevgen.__file__).parent)
RULES = str(Path(PRODUCT) / "rules")
TESTS = str(Path(__file__).resolve().parents[1])


class Asked:
    """Which keys were asked for, and which of them by a stage, a check or a drawing and not by the test itself."""

    def __init__(self) -> None:
        self.keys: set[str] = set()
        self.worked: set[str] = set()

    def note(self, name: str) -> None:
        """Who asks is the nearest caller outside the rules package and this file."""
        self.keys.add(name)
        if name in self.worked:
            return
        frame: FrameType | None = sys._getframe(2)
        while frame is not None:
            file = frame.f_code.co_filename
            if file.startswith(PRODUCT) and not file.startswith(RULES):
                self.worked.add(name)
            if file.startswith((PRODUCT, TESTS)) and not file.startswith(RULES) and file != __file__:
                return
            frame = frame.f_back

    def clear(self) -> None:
        self.keys.clear()
        self.worked.clear()


class Watched(dict[str, Any]):
    """A book's values, remembering what is asked of them, by `named` with the key in it."""

    asked: Asked
    named: str = "{}"

    def __getitem__(self, key: str) -> Any:
        self.asked.note(self.named.format(key))
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:
        self.asked.note(self.named.format(key))
        return super().get(key, default)

    def items(self) -> Any:
        """A test that goes through them all asks for each; the product only lists them."""
        if sys._getframe(1).f_code.co_filename.startswith(TESTS):
            self.asked.keys.update(map(self.named.format, self))
        return super().items()


def note_of(country: str, key: str, otherwise: bool) -> str:
    """What is noted when a key of a set is read, or what the set shows beside it."""
    return f"{country} {key}{OTHERWISE if otherwise else ''}"


def watch(asked: Asked) -> None:
    """From here on every book made notes in `asked` which of its keys are read, under `note_of`."""
    plain = RuleBook.__init__

    def made(self: RuleBook, *args: Any, **named: Any) -> None:
        plain(self, *args, **named)
        for name, otherwise in (("values", False), ("alternatives", True)):
            watched = Watched(getattr(self, name))
            watched.asked, watched.named = asked, note_of(self.id, "{}", otherwise)
            object.__setattr__(self, name, watched)

    RuleBook.__init__ = made  # type: ignore[method-assign]
