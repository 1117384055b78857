"""What layers and blocks are called in a file.

A block keeps our prefix, so that it stays apart from the user's own. In a file made to be inserted into other drawings its name
says what is in it as well: a drawing that holds a block of that name already keeps the one it has.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256

from elevgen.drawing.scene import Block, Role, Scene

PREFIX = "EG-"
R12_LONGEST = 31
_R12_FORBIDDEN = re.compile(r"[^A-Za-z0-9$_-]")
_DIGEST = 6
_NUMBER = re.compile(r"-?[0-9]+\.[0-9]+(?:e-?[0-9]+)?")
"""Told to a thousandth of a millimetre: the last figures of a sum are not the same in every Python."""


@dataclass(frozen=True, slots=True)
class Names:
    """The names of one file, by role and by block of the scene."""

    layers: dict[Role, str]
    blocks: dict[str, str]

    def symbol(self, name: str) -> str:
        """The block a mark is drawn in."""
        return f"{PREFIX}{name.upper()}"


def names_of(scene: Scene, telling: bool = False, old: bool = False) -> Names:
    """Names for a scene. `telling`: blocks say what is in them. `old`: as R12 allows them."""
    legal: Callable[[str], str] = r12_name if old else str
    blocks = {b.name: legal(f"{PREFIX}{b.name}{f'-{_told(b, scene)}' if telling else ''}") for b in scene.blocks}
    return Names({layer.role: legal(layer.name) for layer in scene.layers}, blocks)


def r12_name(name: str) -> str:
    """A name as R12 allows it: letters, digits, `$`, `_` and `-`, at most 31 of them; two long ones never become the same."""
    legal = _R12_FORBIDDEN.sub("_", name)
    if len(legal) <= R12_LONGEST:
        return legal
    return f"{legal[: R12_LONGEST - _DIGEST - 1]}-{_digest(name)}"


def _told(block: Block, scene: Scene) -> str:
    layers = sorted((p.role.value, scene.layer(p.role).name) for p in block.primitives)
    return _digest(_NUMBER.sub(lambda found: f"{float(found[0]):.3f}", repr((block.primitives, layers))))


def _digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:_DIGEST]
