"""What a reader can point at in an SVG: primitives that show one thing gathered together, each with an id and a title."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from elevgen.drawing.scene import BlockUse, Dimension, Fill, Line, Polyline, Primitive, Role, Symbol, View

_NOT_IN_NAMES = re.compile(
    "[^A-Za-z0-9_.\u00b7\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u037d\u037f-\u1fff\u200c\u200d\u2070-\u218f\u2c00-\u2fef"
    "\u3001-\ud7ff\uf900-\ufdcf\ufdf0-\ufffd-]+"
)
"""What XML 1.0 does not allow in a name (production 4a), colons aside, which mean a namespace."""
_NOT_FIRST = re.compile(r"[0-9.\-\u00b7\u0300-\u036f\u203f\u2040]")
"""What it allows in a name, but not at its beginning (production 4)."""

_WORDS: dict[Role, str] = {
    Role.BED_REINFORCEMENT: "bed-joint reinforcement",
    Role.DPC: "damp-proof course",
    Role.LINTEL: "lintel",
    Role.MOVEMENT_JOINT: "movement joint",
    Role.OPENING: "opening",
    Role.MEETING: "wall met",
}
"""What a thing is called whose drawing does not say it."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Primitives that follow one another and show one thing. Without a title it is only drawn, not pointed at."""

    primitives: tuple[Primitive, ...]
    id: str = ""
    title: str = ""


def things(view: View, reserved: Iterable[str] = ()) -> Iterator[Thing]:
    """The primitives of a view in their order, gathered. Ids are legal in XML, in no other thing and not reserved.

    An id is the view's with what is shown after it (`W1-outer-MJ1`, `W1-outer-course-3`); where the same is shown more
    than once, the first that says what it is has the plain one and others are numbered on. A label of something
    said elsewhere has its title and no id.
    """
    titles = _titles(view)
    names = _Names(reserved)
    for key, primitives in _gathered(view):
        shown, said = key
        title = said or titles.get(shown) or _in_words(primitives, shown)
        if not title:
            yield Thing(primitives)
        elif said or shown not in titles:
            if shown:
                titles.setdefault(shown, title)
            yield Thing(primitives, names.for_thing(view.id, shown, title, primitives), title)
        else:
            yield Thing(primitives, "", title)


def slug(text: str) -> str:
    """Words as a name that XML allows."""
    name = _NOT_IN_NAMES.sub("-", text).strip("-") or "_"
    return f"_{name}" if _NOT_FIRST.match(name) else name


class _Names:
    """Gives every thing an id of its own."""

    def __init__(self, reserved: Iterable[str]) -> None:
        self._taken = set(reserved)
        self._first: dict[str, str] = {}
        self._last: dict[str, int] = {}

    def for_thing(self, view: str, shown: str, title: str, primitives: tuple[Primitive, ...]) -> str:
        plain = slug(f"{view}/{shown}") if shown else slug(view)
        has_own = shown or primitives[0].role is Role.OUTLINE
        if has_own and self._first.setdefault(plain, title) == title:
            return self._take(plain)
        return self._take(f"{plain}-{slug(_short(title))}")

    def _take(self, name: str) -> str:
        n, free = self._last.get(name, 1), name
        while free in self._taken:
            n += 1
            free = f"{name}-{n}"
        self._last[name] = n
        self._taken.add(free)
        return free


def _gathered(view: View) -> Iterator[tuple[tuple[str, str], tuple[Primitive, ...]]]:
    """Runs of primitives of one source that say one thing: (what is shown, title), and the primitives.

    Marks and dimensions stand alone, and so does what belongs to the whole view and says nothing.
    """
    run: list[Primitive] = []
    shown = said = ""
    for primitive in view.primitives:
        source, title = _shown(view, primitive), _said(primitive)
        alone = isinstance(primitive, Symbol | Dimension) or not (source or title)
        goes_on = run and not alone and source == shown and title in ((said,) if not source else ("", said))
        if not goes_on:
            if run:
                yield (shown, said), tuple(run)
            run, shown, said = [], source, title
        run.append(primitive)
        if alone:
            yield (shown, said), tuple(run)
            run = []
    if run:
        yield (shown, said), tuple(run)


def _shown(view: View, primitive: Primitive) -> str:
    """The id of what is shown less what the view's own id says already; empty for the wall or the leaf as a whole."""
    parts, own = primitive.source.split("/"), view.id.split("/")
    while parts and own and parts[0] == own[0]:
        parts, own = parts[1:], own[1:]
    return "/".join(parts)


def _said(primitive: Primitive) -> str:
    match primitive:
        case Line() | Polyline() | Symbol() | BlockUse():
            return primitive.title
        case Dimension():
            return f"dimension {primitive.text}"
    return ""


def _titles(view: View) -> dict[str, str]:
    """What the drawing says of each thing, where it is first drawn with a title."""
    titles: dict[str, str] = {}
    for primitive in view.primitives:
        said = _said(primitive)
        if said and not isinstance(primitive, Dimension) and (shown := _shown(view, primitive)):
            titles.setdefault(shown, said)
    return titles


def _in_words(primitives: tuple[Primitive, ...], shown: str) -> str:
    """What a thing is, by the role it is drawn in, and its id."""
    first = next((p for p in primitives if not isinstance(p, Fill)), primitives[0])
    return f"{_WORDS[first.role]} {shown}" if shown and first.role in _WORDS else ""


def _short(title: str) -> str:
    """The first words of a title: what it is, without figures that follow."""
    return re.split(r"[,:;(]", title, maxsplit=1)[0][:40].strip()
